import { expect, it } from 'vitest';
import { type Household, newHousehold, observe } from '../../../lib/demand/household.ts';
import { pooledPrior } from '../../../lib/demand/pooledPrior.ts';
import { nextDayUse } from '../../../lib/demand/predictive.ts';
import { type FleetPrior, PUBLISHED_PRIOR } from '../../../lib/demand/prior.ts';
import { pinball } from '../../../lib/demand/scores.ts';
import { type Home, realHomes } from '../../support/homes.ts';

/** Days of a home that is new to the fleet. */
const NEW_DAYS = 14;

function grown(home: Home, household = newHousehold()): Household {
  return home.reduce((state, { date, gallons }) => observe(state, date, gallons), household);
}

/** Mean pinball loss of a home's first days, by what is believed of it before they come. */
function firstLoss(home: Home, prior: FleetPrior): number {
  let household = newHousehold(prior);
  let loss = 0;
  for (const { date, gallons } of home.slice(0, NEW_DAYS)) {
    const { p10, p50, p90 } = nextDayUse(household, date - 1);
    loss += pinball(0.1, p10, gallons) + pinball(0.5, p50, gallons) + pinball(0.9, p90, gallons);
    household = observe(household, date, gallons);
  }
  return loss;
}

it('helps a home that is new to its fleet, of real homes each left out in turn', () => {
  const homes = realHomes(90).filter((home) => grown(home).level > 10);
  const households = homes.map((home) => grown(home));
  let pooled = 0;
  let published = 0;
  homes.forEach((home, left) => {
    pooled += firstLoss(home, pooledPrior(households.filter((_, index) => index !== left)));
    published += firstLoss(home, PUBLISHED_PRIOR);
  });
  if (process.env.TELL) console.log({ pooled, published });
  expect(pooled).toBeLessThan(0.95 * published);
});

it('is as published where there are too few homes to tell', () => {
  expect(pooledPrior([newHousehold()])).toEqual(PUBLISHED_PRIOR);
});
