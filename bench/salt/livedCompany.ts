import { SaltAccounts } from '../../lib/salt/account/saltAccounts.ts';
import { type FleetOptions, planFleet } from '../../lib/simulation/plan.ts';
import type { Rules } from '../../lib/watch/rules.ts';
import { type ComparedMonth, compared, livedSalt, untilOf } from '../../tests/support/saltTruth.ts';

/** Lives through a company's fleet, unit by unit, and puts its accounts beside the truth. */
export function livedCompany(options: FleetOptions, rules: Rules, untidy: number): ComparedMonth[] {
  const plans = planFleet(options);
  const accounts = new SaltAccounts(Math.max(...plans.map(untilOf)), rules.salt);
  const truth = plans.map((plan) => {
    const { known, trueLb } = livedSalt(plan, rules.fold, untidy);
    accounts.add(known);
    return { region: known.unit.region, trueLb };
  });
  return compared(accounts.accounts(), truth);
}
