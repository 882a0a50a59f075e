import type { Severity } from '../../shared/alerts.ts';
import type { Unit } from '../../shared/registry.ts';
import { formatInstant, type Instant } from '../../shared/time/instant.ts';
import { formatLocalDate } from '../../shared/time/localDate.ts';
import { GAP_DAYS, gapsAsLong, type Reporting } from '../unit/memory/reporting.ts';
import type { UnitState } from '../unit/state.ts';
import { severityOf, type WatchedKind } from './kind.ts';
import type { SilentUnitRules } from './rules/silentUnit.ts';

const DAY_MS = 86_400_000;
const DAYS_A_YEAR = 365.25;

/**
 * A unit that has fallen silent against one that is about to be heard again. It falls silent with the fleet's hazard
 * and stays so; gaps as long as this end by themselves as often as the unit's own record and that of its like say. The
 * posterior of a silence of so many days is hazard / (hazard + rate of such gaps). It ends when the unit is heard.
 */
export const silentUnit: WatchedKind<SilentUnitRules> = {
  kind: 'silent-unit',
  consequenceOf: [],
  look(unit, state, rules, at) {
    const { reporting } = state.memories;
    if (reporting.lastHeard === null) return null;
    const silentDays = (at - reporting.lastHeard) / DAY_MS;
    if (silentDays < GAP_DAYS[0]) return null;
    const beyondDays = silentDays - usualGapDays(reporting, rules);
    if (beyondDays < rules.leastBeyondDays) return null;
    const gaps = gapsPerYear(reporting, silentDays, beyondDays, rules);
    const probability = rules.silencesPerUnitYear / (rules.silencesPerUnitYear + gaps);
    return {
      probability,
      causes: [],
      severity: severityAt(probability, beyondDays, rules),
      lasts: probability >= rules.clear,
      summary: () => summary(unit, reporting, silentDays, rules),
      evidence: () => evidence(reporting, silentDays, gaps, rules, at),
    };
  },
};

/** The instant before which no silence shows, if nothing is heard: as early as it shows of a unit that is never quiet. */
export function silenceFrom({ memories }: UnitState, { leastBeyondDays }: SilentUnitRules): Instant {
  const { lastHeard } = memories.reporting;
  if (lastHeard === null) return Number.POSITIVE_INFINITY;
  return Math.floor(lastHeard + (GAP_DAYS[0] + leastBeyondDays) * DAY_MS);
}

function severityAt(probability: number, beyondDays: number, rules: SilentUnitRules): Severity | null {
  const { routine, soon, soonAfterDays } = rules;
  return severityOf(probability, beyondDays >= soonAfterDays ? { routine, soon } : { routine });
}

/** The gap that is usual of a unit, days: the longest kind that it makes again and again. */
function usualGapDays(reporting: Reporting, rules: SilentUnitRules): number {
  const { gaps, reached, days } = reporting;
  let step = GAP_DAYS.length - 1;
  for (; step >= 0; step--) {
    const count = reached[step] ?? 0;
    if (count >= 2 && count * (GAP_DAYS[step] ?? 0) >= rules.habitShare * days) break;
  }
  const longest = GAP_DAYS[Math.min(step + 1, GAP_DAYS.length - 1)] ?? 0;
  return gaps < rules.newGaps ? Math.max(longest, rules.weeklyDays) : longest;
}

/**
 * Rate a year of gaps that last as long as this one and end by themselves: a Poisson process whose rate has a gamma
 * prior about that of the fleet.
 */
function gapsPerYear(
  reporting: Reporting,
  silentDays: number,
  beyondDays: number,
  { alike, ordinaryGaps }: SilentUnitRules,
): number {
  const own = gapsAsLong(reporting, silentDays);
  const years = reporting.days / DAYS_A_YEAR;
  return (alike + own) / (alike / fleetGapsPerYear(beyondDays, ordinaryGaps) + years);
}

/** Between two lengths the fleet's rate falls evenly in proportion, and on beyond the last as before it. */
function fleetGapsPerYear(beyondDays: number, gaps: SilentUnitRules['ordinaryGaps']): number {
  const next = gaps.findIndex((each) => each.beyondDays > beyondDays);
  const upper = next === -1 ? gaps.length - 1 : Math.max(1, next);
  const [low, high] = [gaps[upper - 1], gaps[upper]];
  if (!low || !high) return 0;
  const share = (beyondDays - low.beyondDays) / (high.beyondDays - low.beyondDays);
  return low.perYear * (high.perYear / low.perYear) ** share;
}

function summary(unit: Unit, reporting: Reporting, silentDays: number, rules: SilentUnitRules): string {
  const since = formatLocalDate(unit.zone.dateAt(reporting.lastHeard ?? 0));
  const usual = usualGapDays(reporting, rules);
  const habit = usual < 1.5 ? 'daily' : `every ${Math.floor(usual)} days or sooner`;
  return `Nothing has been heard of the unit for ${Math.floor(silentDays)} days, since ${since}; it usually reports ${habit}. Look at its power and its connection.`;
}

function evidence(
  reporting: Reporting,
  silentDays: number,
  gaps: number,
  rules: SilentUnitRules,
  at: Instant,
) {
  return {
    lastHeard: formatInstant(reporting.lastHeard ?? at),
    silentDays,
    usualGapDays: usualGapDays(reporting, rules),
    gapsAsLongBefore: gapsAsLong(reporting, silentDays),
    daysOfRecord: reporting.days,
    gapsAsLongPerYear: gaps,
  };
}
