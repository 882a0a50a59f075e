import { expect, it } from 'vitest';
import { SaltAccounts } from '../../../../lib/salt/account/saltAccounts.ts';
import type { MonthAccount } from '../../../../lib/salt/monthAccount.ts';
import { Chance } from '../../../../lib/simulation/chance.ts';
import { rulesSchema } from '../../../../lib/watch/rules.ts';
import { endOfMonth, knownUnit } from '../../../support/saltMonths.ts';

const { salt: rules } = rulesSchema.parse({});
const COMPANIES = 400;
const DOSES = 4;
const DOSE_LB = 8;
/** The most of a sensor, which makes what was measured and the drawn share wrong together. */
const NOISE_LB = 3;
const UNITS = 200;

/**
 * A company of one region, half of it sensed: what it truly used, and its account. Doses deviate as the rules believe: from
 * company to company, and from unit to unit.
 */
function company(seed: number) {
  const chance = new Chance(seed, 1);
  const share = chance.normal(rules.drawnShare.mean, rules.drawnShare.deviation);
  const accounts = new SaltAccounts(endOfMonth(0), rules);
  let trueLb = 0;
  for (let unit = 0; unit < UNITS; unit++) {
    const doses = DOSES * DOSE_LB;
    const drawnLb = doses * chance.normal(share, rules.drawnShare.unitDeviation);
    const variance = DOSES * 2 * NOISE_LB ** 2;
    const known: Partial<MonthAccount> =
      unit % 2 === 0
        ? {
            ...{ measuredSaltLb: chance.normal(drawnLb, Math.sqrt(variance)), measuredVariance: variance },
            measuredDoseLb: doses,
          }
        : { inferredSaltLb: doses };
    accounts.add(knownUnit({ unitId: `u-${unit}` }, [{ daysCounted: 31, regenerations: DOSES, ...known }]));
    trueLb += drawnLb;
  }
  const [account] = accounts.accounts();
  if (!account) throw new Error('there is no account');
  return { trueLb, ...account.saltLb };
}

it('the interval of a company of one region holds its salt with 80 %, though the noise of its sensors is in both parts', () => {
  const all = Array.from({ length: COMPANIES }, (_, index) => company(index + 1));
  const held = all.filter(({ trueLb, low, high }) => low <= trueLb && trueLb <= high).length / COMPANIES;
  // Three standard errors of a share of 0.8.
  const error = 3 * Math.sqrt((0.8 * 0.2) / COMPANIES);
  expect(held).toBeGreaterThan(0.8 - error);
  expect(held).toBeLessThan(0.8 + error);
});
