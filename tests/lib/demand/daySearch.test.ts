import { expect, it } from 'vitest';
import { daysUntil } from '../../../lib/demand/daySearch.ts';
import { newHousehold, observe } from '../../../lib/demand/household.ts';
import { useAhead } from '../../../lib/demand/useAhead.ts';
import { realHomes } from '../../support/homes.ts';

it('finds on real homes the days at which the distribution itself has the quantiles, in whole days', () => {
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
        const by = (day: number) => (day <= 0 ? 0 : ahead.reaches(Math.min(day, 365), target));
        const around = (day: number) => (by(day - 1) + by(day)) / 2;
        if (p50 !== null) worst = Math.max(worst, 0.5 - by(p50), by(p50 - 1) - 0.5);
        if (p10 !== null) worst = Math.max(worst, p10 === p50 ? 0 : 0.1 - around(p10), around(p10 - 1) - 0.1);
        if (p90 !== null) worst = Math.max(worst, p90 === p50 ? 0 : around(p90) - 0.9, 0.9 - around(p90 + 1));
      }
    }
  }
  expect(worst).toBeLessThan(0.01);
});
