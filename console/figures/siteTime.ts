const DAY_MS = 86_400_000;

/**
 * A place on the time axis of a site, milliseconds: what its wall clock shows, written as if it were UTC. So a day is
 * always as wide as the next, and no figure moves with the zone of whoever looks.
 */
export type SiteTime = number;

/** Midnight at which a local date begins. */
export function startOf(localDate: string): SiteTime {
  return Date.parse(`${localDate}T00:00:00Z`);
}

/** Midnight at which it ends. */
export function endOf(localDate: string): SiteTime {
  return startOf(localDate) + DAY_MS;
}

/** The local date of a place on the axis. */
export function dateOf(time: SiteTime): string {
  return new Date(time).toISOString().slice(0, 10);
}

/** Where on the axis something happened. */
export function siteTime(instant: string, timeZone: string): SiteTime {
  // Swedish writes dates as ISO 8601 does.
  const text = clockOf(timeZone).format(Date.parse(instant));
  return Date.parse(`${text.replace(' ', 'T')}Z`);
}

const clocks = new Map<string, Intl.DateTimeFormat>();

function clockOf(timeZone: string): Intl.DateTimeFormat {
  const clock =
    clocks.get(timeZone) ??
    new Intl.DateTimeFormat('sv-SE', { timeZone, dateStyle: 'short', timeStyle: 'medium' });
  clocks.set(timeZone, clock);
  return clock;
}
