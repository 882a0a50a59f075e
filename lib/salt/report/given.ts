import type { UnitSystem } from '../../brief/inUnits.ts';
import type { MethodStep } from '../account/method.ts';
import type { SaltAccount } from '../account/saltAccount.ts';
import type { Delivery } from '../deliveries/delivery.ts';
import { monthInWords, yearUpTo } from './months.ts';
import { type Quantities, quantitiesIn } from './quantity.ts';
import { counted } from './rounding.ts';

/** What a report of a region's month is made of. */
export interface ReportGiven {
  readonly company: string;
  readonly region: string;
  /** `YYYY-MM`. */
  readonly month: string;
  /** Accounts of the company, at least those of this region for the month and the twelve before; others do not count. */
  readonly accounts: readonly SaltAccount[];
  readonly method: readonly MethodStep[];
  /** Salt to be brought, all that is known of; without it, nothing is said about that. */
  readonly deliveries?: readonly Delivery[] | undefined;
  /** Events that were set aside in the month, where that is known. */
  readonly quarantined?: number | undefined;
  /**
   * Whether it goes to others than the company: then a month of fewer than `leastUnits` units is withheld, small counts
   * too, and no unit is named.
   */
  readonly isShared: boolean;
  /** `rules.salt.leastUnitsTold`. */
  readonly leastUnits: number;
  readonly system: UnitSystem;
}

/** The same, with what all sections go by. */
export interface Subject extends Omit<ReportGiven, 'accounts'> {
  readonly account: SaltAccount;
  /** The month and the twelve before, the earliest first; null where nothing is known of one, or it is withheld. */
  readonly year: readonly { readonly month: string; readonly account: SaltAccount | null }[];
  readonly quantities: Quantities;
  readonly inWords: string;
}

/** @throws RangeError if there is no account of the month */
export function subjectOf({ accounts, ...given }: ReportGiven): Subject {
  const { region, month } = given;
  const own = new Map(accounts.filter((each) => each.region === region).map((each) => [each.month, each]));
  const account = own.get(month);
  if (!account) throw new RangeError(`there is no account of ${region} in ${month}`);
  return {
    ...given,
    account,
    year: yearUpTo(month).map((each) => {
      const known = own.get(each);
      return { month: each, account: known && !isWithheld(known, given) ? known : null };
    }),
    quantities: quantitiesIn(given.system),
    inWords: monthInWords(month),
  };
}

/** Whether nothing is told of a month: a household could be read out of it. */
export function isWithheld(
  { units, unitsReporting }: SaltAccount,
  { isShared, leastUnits }: Pick<ReportGiven, 'isShared' | 'leastUnits'>,
): boolean {
  return isShared && Math.min(units, unitsReporting) < leastUnits;
}

/** A count out of several; where the report is shared, not told if either side of it is a few units. */
export function countOutOf(
  count: number,
  all: number,
  { isShared, leastUnits }: Pick<ReportGiven, 'isShared' | 'leastUnits'>,
): string {
  const isFew = (some: number) => some > 0 && some < leastUnits;
  if (isShared && (isFew(count) || isFew(all - count))) return 'withheld';
  return counted(count);
}

/** `1 softener`, `3 softeners`. */
export function softeners(count: number): string {
  return `${counted(count)} softener${count === 1 ? '' : 's'}`;
}
