import type { AdviceRefused, Refusal } from './refusal.ts';
import { REFUSALS } from './refusal.ts';
import type { SettingsAdvice } from './settingsAdvice.ts';

/** What is kept of a unit's advice to rank its visit. */
export type RankedAdvice = Pick<SettingsAdvice, 'unitId' | 'today' | 'advised' | 'withinLimit' | 'saves'>;

/** What visits to set controls anew would save in a fleet. Amounts are lb of salt and US gallons a year. */
export interface RollUp {
  /** The visits that save most salt, the best first: each would save some, and its settings keep within the limit. */
  readonly visits: readonly RankedAdvice[];
  readonly savedByVisitsLb: number;
  /** The same over all units that would save some, and how many those are. */
  readonly unitsToGain: number;
  readonly savedByAllLb: number;
  readonly unitsAdvised: number;
  /** Units of which no settings tried keep within the limit. */
  readonly unitsBeyondLimit: number;
  /** By reason, those that occur. */
  readonly refused: Readonly<Partial<Record<Refusal, number>>>;
}

/** A visit for less than this, lb a year, is not worth its way. One bag; common practice, no source. */
export const LEAST_SAVING_LB = 40;

/** Ranks the visits of a fleet by the salt they would save; of equal ones in the order of unit ids. */
export function rollUp(
  advices: readonly RankedAdvice[],
  refusals: readonly Pick<AdviceRefused, 'reason'>[],
  mostVisits: number,
): RollUp {
  const toGain = advices
    .filter(({ withinLimit, saves }) => withinLimit && saves.saltLb >= LEAST_SAVING_LB)
    .sort((a, b) => b.saves.saltLb - a.saves.saltLb || (a.unitId < b.unitId ? -1 : 1));
  const visits = toGain.slice(0, mostVisits);
  const counts = REFUSALS.map((reason) => [
    reason,
    refusals.filter((refusal) => refusal.reason === reason).length,
  ]);
  return {
    visits,
    savedByVisitsLb: sumOf(visits),
    unitsToGain: toGain.length,
    savedByAllLb: sumOf(toGain),
    unitsAdvised: advices.length,
    unitsBeyondLimit: advices.filter(({ withinLimit }) => !withinLimit).length,
    refused: Object.fromEntries(counts.filter(([, count]) => count !== 0)),
  };
}

function sumOf(advices: readonly RankedAdvice[]): number {
  return advices.reduce((sum, { saves }) => sum + saves.saltLb, 0);
}
