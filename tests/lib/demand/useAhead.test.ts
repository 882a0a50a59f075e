import { expect, it } from 'vitest';
import { newHousehold, observe } from '../../../lib/demand/household.ts';
import { overrunProbability } from '../../../lib/demand/passage.ts';
import { useAhead } from '../../../lib/demand/useAhead.ts';
import { realHomes } from '../../support/homes.ts';

it('has on real homes, however far ahead, probabilities that stay within their bounds', () => {
  let above = 0;
  for (const home of realHomes(90)) {
    let household = newHousehold();
    for (const { date, gallons } of home) {
      household = observe(household, date, gallons);
      if (date % 9 !== 0) continue;
      const ahead = useAhead(household, date);
      for (const days of [1, 4, 20, 60, 61, 200]) {
        for (const target of [0, 0.1, 1, 5, 30].map((levels) => levels * household.level)) {
          const reaches = ahead.reaches(days, target);
          above = Math.max(above, reaches - ahead.reachesAtMost(days, target), -reaches);
        }
      }
    }
  }
  expect(above).toBeLessThan(1e-9);
});

it('has an overrun that is a probability, whatever share of the day comes before the hour', () => {
  for (const home of realHomes(90)) {
    let household = newHousehold();
    home.forEach(({ date, gallons }, index) => {
      household = observe(household, date, gallons);
      if (index % 3 !== 0) return;
      const left = household.level * (0.5 + ((index * 7) % 45) / 10);
      const lastSevenDays = home.slice(Math.max(0, index - 6), index + 1).map((day) => day.gallons);
      const bed = {
        believedGallons: left,
        remainingGallons: 1.03 * left,
        lastSevenDays,
        shareBeforeHour: 0.3,
      };
      const overrun = overrunProbability(household, date, { ...bed, reserve: true });
      expect(overrun).toBeGreaterThanOrEqual(0);
      expect(overrun).toBeLessThan(1 + 1e-9);
    });
  }
});
