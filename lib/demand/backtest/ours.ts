import type { LocalDate } from '../../../shared/time/localDate.ts';
import { newHousehold, observe, skip } from '../household.ts';
import { nextDayQuantiles } from '../predictive.ts';
import { useAhead } from '../useAhead.ts';
import type { Family } from './family.ts';
import { invert } from './invert.ts';

/** The demand model that the product forecasts with. */
export const ours: Family = {
  name: 'demand model',
  begin: () => {
    let household = newHousehold();
    let last: LocalDate = 0;
    return {
      observe: (date, gallons) => {
        household = observe(household, date, gallons);
        last = date;
      },
      skip: (date) => {
        household = skip(household, date);
        last = date;
      },
      quantiles: (days, probabilities) => {
        if (days === 1) return nextDayQuantiles(household, last, probabilities);
        const ahead = useAhead(household, last);
        return invert((gallons) => ahead.reaches(days, gallons), probabilities, ahead.mean(days));
      },
    };
  },
};
