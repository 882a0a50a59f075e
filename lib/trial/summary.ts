import * as z from 'zod';
import { ALERT_KINDS } from '../../shared/alerts.ts';
import { idSchema } from '../../shared/ids.ts';
import { recordOf } from '../../shared/records.ts';
import { formatInstant, type Instant } from '../../shared/time/instant.ts';
import { instantSchema } from '../../shared/time/instantSchema.ts';
import { formatLocalDate, parseLocalDate } from '../../shared/time/localDate.ts';
import type { Rules } from '../watch/rules.ts';
import { ruleDifferenceSchema, ruleDifferences } from './ruleDifferences.ts';
import { addKind, type KindTally, kindTallySchema, type TrialTally, tallySchema } from './tally.ts';

const DAYS_A_YEAR = 365.25;
const DAYS_A_WEEK = 7;

const count = z.int().min(0);

const kindSchema = kindTallySchema
  .omit({ raisedDays: true })
  .extend({
    earlier: count.describe('Of those moved, raised sooner'),
    later: count,
    medianRaisedDays: z.number().nullable().describe('Of those raised at another time; negative if earlier'),
    beforePerUnitYear: z.number().nullable(),
    afterPerUnitYear: z.number().nullable(),
  })
  .meta({ id: 'TrialCounts' });

/** Neighbouring units of which a trial says nothing. */
const notTriedSchema = z.object({
  first: idSchema,
  last: idSchema,
  units: count,
  reason: z.string().describe('A stable code'),
  detail: z.string(),
});

export type NotTried = z.infer<typeof notTriedSchema>;

/** What a trial of rules found over a fleet: summary.json. */
export const trialSummarySchema = z.object({
  until: instantSchema.nullable().describe('Up to when both replays ran; null for want of an accepted event'),
  units: count.describe('Those tried'),
  unitsReporting: count,
  unitsTouched: count.describe('Those with an alert that is gone, new or moved'),
  unitYears: z.number(),
  /** Of all kinds together. */
  alerts: kindSchema,
  byKind: z.object(recordOf(ALERT_KINDS, () => kindSchema)),
  bySeverity: tallySchema.shape.severities,
  weeks: z
    .array(z.object({ week: z.iso.date(), before: count, after: count }))
    .describe('Alerts raised, by the Monday (UTC) of each week from the first with one to the last'),
  rules: z.array(ruleDifferenceSchema).describe('What the two sets of rules differ in'),
  mostChanged: z.array(z.object({ unitId: idSchema, gone: count, new: count, moved: count })),
  notTried: z.array(notTriedSchema),
  complete: z.boolean().describe('Whether all units were tried, and events and registry read whole'),
});

export type TrialSummary = z.infer<typeof trialSummarySchema>;

/** What a summary says beside what was counted. */
export interface TrialRunOf {
  readonly present: Rules;
  readonly proposed: Rules;
  readonly until: Instant | undefined;
  readonly notTried: readonly NotTried[];
  /** Whether events and registry were read whole. */
  readonly readWhole: boolean;
}

/** Sums a trial up. */
export function trialSummaryOf(
  tally: TrialTally,
  { present, proposed, until, notTried, readWhole }: TrialRunOf,
): TrialSummary {
  const unitYears = tally.unitDays / DAYS_A_YEAR;
  const all = ALERT_KINDS.map((kind) => tally.kinds[kind]).reduce(together);
  return {
    until: until === undefined ? null : formatInstant(until),
    units: tally.units,
    unitsReporting: tally.unitsReporting,
    unitsTouched: tally.unitsTouched,
    unitYears: rounded(unitYears),
    alerts: { ...kindOf(all, unitYears), unitsTouched: tally.unitsTouched },
    byKind: recordOf(ALERT_KINDS, (kind) => kindOf(tally.kinds[kind], unitYears)),
    bySeverity: tally.severities,
    weeks: weeksOf(tally.weeks),
    rules: ruleDifferences(present, proposed),
    mostChanged: tally.mostChanged.map(({ unitId, gone, new: fresh, moved }) => ({
      ...{ unitId, gone, new: fresh, moved },
    })),
    notTried: [...notTried],
    complete: readWhole && notTried.length === 0,
  };
}

function kindOf({ raisedDays, ...counts }: KindTally, unitYears: number): TrialSummary['alerts'] {
  const byDays = Object.entries(raisedDays)
    .map(([days, alerts]) => ({ days: Number(days), alerts }))
    .sort((a, b) => a.days - b.days);
  const number = (wanted: (days: number) => boolean) =>
    byDays.filter(({ days }) => wanted(days)).reduce((sum, { alerts }) => sum + alerts, 0);
  const perUnitYear = (alerts: number) => (unitYears > 0 ? rounded(alerts / unitYears) : null);
  return {
    ...counts,
    earlier: number((days) => days < 0),
    later: number((days) => days > 0),
    medianRaisedDays: medianOf(byDays),
    beforePerUnitYear: perUnitYear(counts.before),
    afterPerUnitYear: perUnitYear(counts.after),
  };
}

/** The median of days that come so many times, in ascending order; null of none. */
function medianOf(byDays: readonly { readonly days: number; readonly alerts: number }[]): number | null {
  const total = byDays.reduce((sum, { alerts }) => sum + alerts, 0);
  const at = (place: number) => {
    let passed = 0;
    return byDays.find(({ alerts }) => {
      passed += alerts;
      return passed > place;
    })?.days;
  };
  const low = at(Math.floor((total - 1) / 2));
  const high = at(Math.floor(total / 2));
  return low === undefined || high === undefined ? null : rounded((low + high) / 2);
}

function together(one: KindTally, other: KindTally): KindTally {
  const sum = structuredClone(one);
  addKind(sum, other);
  return sum;
}

/** Weeks without an alert too, so that a chart of them has no holes. */
function weeksOf(weeks: TrialTally['weeks']): TrialSummary['weeks'] {
  const mondays = Object.keys(weeks).sort();
  const first = parseLocalDate(mondays[0] ?? '');
  const last = parseLocalDate(mondays.at(-1) ?? '');
  if (first === undefined || last === undefined) return [];
  return Array.from({ length: (last - first) / DAYS_A_WEEK + 1 }, (_, index) => {
    const week = formatLocalDate(first + index * DAYS_A_WEEK);
    return { week, before: weeks[week]?.before ?? 0, after: weeks[week]?.after ?? 0 };
  });
}

/** To a thousandth. */
function rounded(value: number): number {
  return Math.round(value * 1000) / 1000 + 0;
}
