import type { Instant } from '../../../shared/time/instant.ts';
import { isAhead } from '../../../shared/time/month.ts';
import type { SaltAccount } from '../account/saltAccount.ts';

/** Why there is nothing to report, with what there is. */
export type NothingToReport =
  | { readonly why: 'region-unknown'; readonly regions: readonly string[] }
  | { readonly why: 'month-ahead' | 'month-without-data'; readonly months: readonly string[] };

/**
 * Whether a region's month can be reported; if not, why.
 *
 * @param accounts all of the company
 * @param now as of when
 */
export function whatIsMissing(
  accounts: readonly Pick<SaltAccount, 'region' | 'month'>[],
  { region, month }: { region: string; month: string },
  now: Instant,
): NothingToReport | undefined {
  const months = accounts.filter((each) => each.region === region).map((each) => each.month);
  if (months.length === 0) {
    return { why: 'region-unknown', regions: [...new Set(accounts.map((each) => each.region))].sort() };
  }
  if (months.includes(month)) return undefined;
  return { why: isAhead(month, now) ? 'month-ahead' : 'month-without-data', months: months.sort() };
}
