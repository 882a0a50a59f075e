import fc from 'fast-check';
import { expect, it } from 'vitest';
import type { Household } from '../../../lib/demand/household.ts';
import { exhaustionDays, overrunProbability, regenerationDays } from '../../../lib/demand/passage.ts';
import { nextDayUse } from '../../../lib/demand/predictive.ts';
import { useAhead } from '../../../lib/demand/useAhead.ts';
import { DRAWN_HOMES, LAST } from '../../support/drawnHomes.ts';

/** One question about a household after a date: what lies ahead is worked out in a place that all households share. */
interface Question {
  readonly home: number;
  readonly daysOn: number;
  readonly kind: number;
  readonly gallons: number;
  /** Of the week before, gallons: fewer than seven days for a new unit. */
  readonly week: readonly number[];
}

const questions = fc.array(
  fc.record({
    home: fc.nat({ max: DRAWN_HOMES.length - 1 }),
    daysOn: fc.nat({ max: 2 }),
    kind: fc.nat({ max: 4 }),
    gallons: fc.constantFrom(60, 160, 400, 900, 2500),
    week: fc.array(fc.constantFrom(0, 120, 150, 400), { maxLength: 7 }),
  }),
  { minLength: 1, maxLength: 12 },
);

function answer({ home, daysOn, kind, gallons, week }: Question): unknown {
  const household = DRAWN_HOMES[home] as Household;
  const asOf = LAST + daysOn;
  const bed = {
    believedGallons: gallons,
    remainingGallons: 1.1 * gallons,
    lastSevenDays: week,
    shareBeforeHour: 0.042,
    reserve: true,
  };
  switch (kind) {
    case 0:
      return nextDayUse(household, asOf);
    case 1:
      return exhaustionDays(household, asOf, gallons);
    case 2:
      return regenerationDays(household, asOf, bed);
    case 3:
      return overrunProbability(household, asOf, bed);
    default:
      return [1, 6, 70].map((days) => useAhead(household, asOf).reaches(days, gallons));
  }
}

it('answers the same, whatever was asked before and of whom', () => {
  // Another household, so that nothing is left of the one that is asked about.
  const forget = () => useAhead({ ...(DRAWN_HOMES[0] as Household) }, 0).mean(1);
  fc.assert(
    fc.property(questions, (asked) => {
      const alone = asked.map((question) => {
        forget();
        return answer(question);
      });
      expect(asked.map(answer)).toEqual(alone);
      expect(asked.toReversed().map(answer).toReversed()).toEqual(alone);
    }),
    { numRuns: 200 },
  );
});
