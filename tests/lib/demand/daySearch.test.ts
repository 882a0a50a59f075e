import { expect, it } from 'vitest';
import { daysUntil } from '../../../lib/demand/daySearch.ts';
import { newHousehold, observe } from '../../../lib/demand/household.ts';
import { useAhead } from '../../../lib/demand/useAhead.ts';
import { realHomes } from '../../support/homes.ts';

it('finds on real homes the days at which the distribution itself has the quantiles', () => {
  let worst = 0;
  for (const home of realHomes(90)) {
    let household = newHousehold();
    for (const { date, gallons } of home) {
      household = observe(household, date, gallons);
      if (date % 5 !== 0) continue;
      const ahead = useAhead(household, date);
      for (const meanDays of [1.5, 5, 9]) {
        const target = meanDays * household.level;
        const { p10, p50, p90 } = daysUntil(ahead, { daysBy: (day) => day, gallonsBy: () => target });
        for (const [p, day] of [
          [0.1, p10],
          [0.5, p50],
          [0.9, p90],
        ] as const) {
          if (day === null) continue;
          worst = Math.max(worst, p - ahead.reaches(day, target), ahead.reaches(day - 1, target) - p);
        }
      }
    }
  }
  expect(worst).toBeLessThan(0.01);
});
