import type { Instant } from '../../../shared/time/instant.ts';
import {
  isZone as isZoneByIntl,
  lookUp as lookUpByIntl,
  type OffsetAt,
} from '../../../shared/time/zoneData.ts';

const MINUTE = 60_000;
/** What stands where no zone matters, and so in every archive. */
const UTC = 'UTC';
/** No zone shows UTC both in a January and in a July but one that always does, or of which nothing is known. */
const JANUARY = Date.UTC(2026, 0, 1);
const JULY = Date.UTC(2026, 6, 1);
/** Names of places. Of others, such as GMT+2, C libraries make zones that the time-zone database does not have. */
const PLACE =
  /^(?:Africa|America|Antarctica|Arctic|Asia|Atlantic|Australia|Europe|Indian|Pacific|US)\/[A-Za-z_/-]+$/;

/**
 * Stands in a bundle for `shared/time/zoneData.ts`. The first `Intl.DateTimeFormat` of a process takes it 25 ms, for words
 * of which nobody here reads any: nearly as long as all of a function's own code. The zone of the process itself comes
 * from the same data in 1 ms, and a function of the cloud has one thread and stands in UTC, so for as long as offsets are
 * looked up it may stand elsewhere. Wherever that tells nothing, Intl is asked.
 */
export function isZone(name: string): boolean {
  return name === UTC || isPlace(name) || isZoneByIntl(name);
}

/** As that of `shared/time/zoneData.ts`. */
export function lookUp<Found>(name: string, look: (offsetAt: OffsetAt) => Found): Found {
  if (name === UTC) return look(() => 0);
  return isPlace(name) ? within(name, look) : lookUpByIntl(name, look);
}

/** Whether the data has a place that is not on UTC, which a place is taken for of which it has nothing. */
function isPlace(name: string): boolean {
  return PLACE.test(name) && within(name, (offsetAt) => offsetAt(JANUARY) !== 0 || offsetAt(JULY) !== 0);
}

/** Nothing else can run meanwhile: `look` waits for nothing. */
function within<Found>(name: string, look: (offsetAt: OffsetAt) => Found): Found {
  const { TZ } = process.env;
  process.env.TZ = name;
  try {
    return look(offsetHere);
  } finally {
    process.env.TZ = TZ ?? 'UTC';
  }
}

function offsetHere(instant: Instant): number {
  return 0 - new Date(instant).getTimezoneOffset() * MINUTE;
}
