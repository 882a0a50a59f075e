import { CompanyAccounts } from '../lib/salt/account/companyAccounts.ts';
import type { Store } from '../lib/store/store.ts';
import type { Instant } from '../shared/time/instant.ts';
import { knownMonths } from './companySalt.ts';
import { rulesOf } from './rulesOf.ts';

/** The accounts of a company, worked out of all that is known of its units until an instant. */
export async function companyAccounts(
  store: Store,
  companyId: string,
  until: Instant,
): Promise<CompanyAccounts> {
  const { salt } = await rulesOf(await store.company(companyId));
  const accounts = new CompanyAccounts(until, salt);
  for await (const page of knownMonths(store, companyId, until)) {
    for (const known of page) accounts.add(known);
  }
  return accounts;
}
