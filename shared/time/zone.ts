import type { Instant } from './instant.ts';
import type { LocalDate } from './localDate.ts';
import { isZone, lookUp, type OffsetAt } from './zoneData.ts';

const MINUTE = 60_000;
const HOUR = 3_600_000;
const DAY = 86_400_000;
/** Offsets are looked up once for a stretch of about a year and kept: asking the runtime each time costs 50 times more. */
const STRETCH = 400 * DAY;
/** Some 27 years of days. */
const MOST_STARTS = 10_000;

/**
 * The local time of one IANA zone. A local day begins at the first instant that carries its date, so where the
 * clocks skip midnight it begins at one o'clock, and it has 23, 24 or 25 hours (or half an hour more or less).
 */
export class Zone {
  readonly name: string;
  readonly #stretches = new Map<number, { from: Instant; offset: number }[]>();
  /** Starts of days that were asked for lately: those of one day are asked for over and over. */
  readonly #starts = new Map<LocalDate, Instant>();

  /** Use {@link zoneNamed}, which knows whether the zone exists. */
  constructor(name: string) {
    this.name = name;
  }

  /** What the zone's clocks show beyond UTC, in milliseconds. */
  offsetAt(instant: Instant): number {
    const stretch = this.#stretchOf(Math.floor(instant / STRETCH));
    let offset = 0;
    for (const change of stretch) {
      if (change.from > instant) break;
      offset = change.offset;
    }
    return offset;
  }

  /** The local date at an instant. */
  dateAt(instant: Instant): LocalDate {
    return Math.floor((instant + this.offsetAt(instant)) / DAY);
  }

  /** The local time of day at an instant, in hours: 0 to just under 24. */
  hourAt(instant: Instant): number {
    const local = instant + this.offsetAt(instant);
    return (local - Math.floor(local / DAY) * DAY) / HOUR;
  }

  /** The first instant of a local date. */
  startOf(date: LocalDate): Instant {
    const known = this.#starts.get(date);
    if (known !== undefined) return known;
    const start = this.#startOf(date);
    if (this.#starts.size >= MOST_STARTS) this.#starts.clear();
    this.#starts.set(date, start);
    return start;
  }

  #startOf(date: LocalDate): Instant {
    const midnight = date * DAY;
    const before = this.offsetAt(midnight - DAY);
    const after = this.offsetAt(midnight + DAY);
    const early = midnight - before;
    if (before === after || this.offsetAt(early) === before) return early;
    const late = midnight - after;
    // Neither fits where the clocks skip midnight itself: the day then begins at the change, when it would have been.
    return this.offsetAt(late) === after ? late : early;
  }

  /** The instant at which the zone's clocks show twelve at noon of a local date; no zone changes its clocks then. */
  noonOf(date: LocalDate): Instant {
    const local = date * DAY + DAY / 2;
    return local - this.offsetAt(local - this.offsetAt(this.startOf(date)));
  }

  #stretchOf(index: number): { from: Instant; offset: number }[] {
    const known = this.#stretches.get(index);
    if (known) return known;
    const changes = lookUp(this.name, (offsetAt) =>
      changesBetween(offsetAt, index * STRETCH, (index + 1) * STRETCH),
    );
    this.#stretches.set(index, changes);
    return changes;
  }
}

const zones = new Map<string, Zone>();

/** The zone of an IANA name, or undefined where the runtime's time-zone data has none of that name. */
export function zoneNamed(name: string): Zone | undefined {
  const known = zones.get(name);
  if (known) return known;
  // A bare offset such as +02:00 is accepted by the runtime but is no IANA name: it has no summer time.
  if (!/^[A-Za-z]/.test(name) || !isZone(name)) return undefined;
  const zone = new Zone(name);
  zones.set(name, zone);
  return zone;
}

function changesBetween(offsetAt: OffsetAt, from: Instant, to: Instant): { from: Instant; offset: number }[] {
  const changes = [{ from, offset: offsetAt(from) }];
  for (let day = from; day < to; day += DAY) {
    const offset = offsetAt(day + DAY);
    if (offset === changes.at(-1)?.offset) continue;
    changes.push({ from: changeWithin(offsetAt, day, day + DAY), offset });
  }
  return changes;
}

/** Halves the span until the minute of the change is found. */
function changeWithin(offsetAt: OffsetAt, from: Instant, to: Instant): Instant {
  const before = offsetAt(from);
  let low = from;
  let high = to;
  while (high - low > MINUTE) {
    const middle = low + Math.floor((high - low) / 2 / MINUTE) * MINUTE;
    if (offsetAt(middle) === before) low = middle;
    else high = middle;
  }
  return high;
}
