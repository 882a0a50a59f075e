import type { SaltAccount } from '../lib/salt/account/saltAccount.ts';
import { SaltAccounts } from '../lib/salt/account/saltAccounts.ts';
import type { SaltRules } from '../lib/salt/account/saltRules.ts';
import type { Store } from '../lib/store/store.ts';
import type { Instant } from '../shared/time/instant.ts';
import { knownMonths } from './companySalt.ts';

/** The salt accounts of a company's regions, as a replay of its events until `until` gives them. */
export async function companyAccounts(
  store: Store,
  companyId: string,
  { until, rules }: { until: Instant; rules: SaltRules },
): Promise<SaltAccount[]> {
  const accounts = new SaltAccounts(until, rules);
  for await (const page of knownMonths(store, companyId, until))
    for (const known of page) accounts.add(known);
  return accounts.accounts();
}
