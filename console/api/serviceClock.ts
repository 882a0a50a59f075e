/**
 * What time it is for the service. That of a demonstration runs many times faster than ours, so its rate is worked out
 * from two answers.
 */
interface Sample {
  readonly service: number;
  readonly ours: number;
}

/** Two answers closer than this say too little about the rate, milliseconds. */
const APART_MS = 2_000;
/** Within this share of 1 the clock is a usual one, and the difference is that of two journeys over the network. */
const USUAL = 0.02;

let last: Sample = { service: Date.now(), ours: performance.now() };
let known = false;
let rate = 1;

/** Takes in what `GET /v1/me` says. */
export function setServiceClock(now: string): void {
  const sample = { service: Date.parse(now), ours: performance.now() };
  const passed = sample.ours - last.ours;
  if (known && passed >= APART_MS) {
    const found = (sample.service - last.service) / passed;
    rate = Math.abs(found - 1) < USUAL ? 1 : Math.max(found, 0);
  }
  last = sample;
  known = true;
}

/** Milliseconds since 1970, by the service's clock. */
export function serviceNow(): number {
  return last.service + (performance.now() - last.ours) * rate;
}
