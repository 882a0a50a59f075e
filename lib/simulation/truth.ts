import type { AlertCause, AlertKind } from '../../shared/alerts.ts';

/**
 * One thing that is true of a simulated fleet, for whoever scores alerts against it. Dates are local to the site and
 * both included; `to` is null while it still lasts at the end. By `what`:
 *
 * - `fault`: an injected fault, with the alert `kind` and `cause` that should name it. `from` is the day on which it
 *   begins (for an empty tank that of the first short regeneration), `to` the day on which it is mended. `detail`:
 *   `fault` (its name), `shownOn` (the first day on which it makes a difference: use that is not counted, a whole day
 *   of a leak, a regeneration short of salt, left out, too long, or at a wrong time, an overrun, a settings event, a day
 *   that is not reported. Days of which nothing ever arrives do not count, late ones do. Null if it never does, and then
 *   nothing can be expected of anybody), `also` (other kinds and causes that are right as well), and `dwindlingFrom` for
 *   a meter that registers a falling share before it stalls.
 * - `regeneration-without-salt`: a regeneration that drew less than its dose. `detail`: `at` (instant), `saltLb`,
 *   `doseLb`. `kind` and `cause` are those of the fault behind it.
 * - `overrun`: the bed treated more than its true capacity. `detail.percent`: by how much, of that capacity. Small ones
 *   happen to healthy units whose reserve was short of a big day, whose meter is about to be cleaned, or whose settings
 *   were lost.
 * - `absence`: nobody was at home for 3 days or more. `kind` and `cause` are null.
 * - `salt-low`: what is in the tank would be used up within 26 days, were none put in: three weeks and a little, since
 *   nobody forecasts it to the day.
 * - `confounder`: something harmless that may look like a fault. `kind` and `cause` are null; `detail.confounder` names it:
 *   `guests`; `occupant-joins` and `occupant-leaves`, for good; `irrigation`; `moved` (the unit, to another home);
 *   `meter-cleaned` (it registers 5 to 15 % more from then on); `level-sensor-sticks`; `regeneration-by-hand` (a single
 *   one); `calendar-limit` (from the first regeneration on that it brings about); `salt-in-vain` (put in while it is not
 *   drawn); `settings-lost` (a power failure after which the control acts by what its maker set, until it is set again);
 *   `day-missing` (nothing of that day ever arrives); `batches` (all arrives days late together); `record-gap` (days of a
 *   real home's record that are missing, two or more); `outage` (of the
 *   region's carrier: all arrives after it).
 */
export interface Truth {
  readonly unitId: string;
  readonly what: 'fault' | 'regeneration-without-salt' | 'overrun' | 'absence' | 'salt-low' | 'confounder';
  readonly kind: AlertKind | null;
  readonly cause: AlertCause | null;
  readonly from: string;
  readonly to: string | null;
  readonly detail: Readonly<Record<string, unknown>>;
}

/** A shorter absence is not told. */
export const SHORTEST_ABSENCE_DAYS = 3;
