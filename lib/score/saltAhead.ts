import { parseLocalDate } from '../../shared/time/localDate.ts';
import { dayOf, type ScoredUnit } from './scoredUnit.ts';

/** As the truth has it: three weeks and a little, since nobody forecasts it to the day. See `salt-low` in lib/simulation/truth.ts. */
const LOW_DAYS = 26;

/**
 * Whether the salt in a tank would have run out within 26 days, had none been put in: by the last reading of its level
 * and the regenerations that came after. The truth tells that by the pace of a sound unit; one that regenerates too
 * often, or runs, uses more. So near the end that not all of these days are known, the 26 last ones are taken.
 *
 * @returns false where the events were not read, or no level is sensed
 */
export function saltRunsOut(scored: ScoredUnit, instant: string): boolean {
  const { unit, seen, truth, to } = scored;
  const at = Date.parse(instant);
  const level = seen?.levels.findLast((each) => each.at <= at);
  if (!seen || !level || unit.saltDoseLb === undefined) return false;
  const last = Math.min(dayOf(scored, instant) + LOW_DAYS, to);
  const first = last - LOW_DAYS;
  const within = (day: number) => day > first && day <= last;
  const regenerations = seen.regenerations.filter((each) => within(unit.zone.dateAt(each))).length;
  const without = truth.filter(
    ({ what, from }) => what === 'regeneration-without-salt' && within(parseLocalDate(from) ?? Infinity),
  ).length;
  return Math.max(0, regenerations - without) * unit.saltDoseLb >= level.lb;
}
