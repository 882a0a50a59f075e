import { useEffect, useState } from 'react';
import { serviceNow } from './serviceClock.ts';

const EVERY_MS = 15_000;

/** The service's time, milliseconds since 1970, as of the last quarter of a minute: good enough for days. */
export function useServiceNow(): number {
  const [now, setNow] = useState(serviceNow);
  useEffect(() => {
    const timer = setInterval(() => setNow(serviceNow()), EVERY_MS);
    return () => clearInterval(timer);
  }, []);
  return now;
}
