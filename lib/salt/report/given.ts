import type { UnitSystem } from '../../brief/inUnits.ts';
import type { FigureGroup } from '../account/accountColumn.ts';
import type { Withheld } from '../account/accountsFile.ts';
import type { ToldAccount } from '../account/companyAccounts.ts';
import type { MethodStep } from '../account/method.ts';
import type { SaltAccount } from '../account/saltAccount.ts';
import type { DeliveryPlan } from '../deliveries/deliveryPlan.ts';
import { counted } from '../rounding.ts';
import { monthInWords, yearUpTo } from './months.ts';
import { type Quantities, quantitiesIn } from './quantity.ts';

/** Salt to be brought: houses with a date and without. */
export interface ToBring extends Pick<DeliveryPlan, 'weeks' | 'houses' | 'byRate'> {
  /** `rules.deliveries.bagLb`. */
  readonly bagLb: number;
  /** The name of a unit's site; without one a house is told by its unit's id. */
  siteNameOf?(unitId: string): string | null;
}

/** What a report of a region's month is made of. */
export interface ReportGiven {
  readonly company: string;
  readonly region: string;
  /** `YYYY-MM`. */
  readonly month: string;
  /** Accounts of the company, at least those of this region for the month and the twelve before; others do not count. */
  readonly accounts: readonly ToldAccount[];
  readonly method: readonly MethodStep[];
  /** Salt to be brought, all that is known of; without it, nothing is said about that. */
  readonly deliveries?: ToBring | undefined;
  /**
   * Whether it goes to others than the company: then what accounts withhold is not told, and no unit is named.
   */
  readonly isShared: boolean;
  /** `rules.salt.leastUnitsTold`. */
  readonly leastUnits: number;
  readonly system: UnitSystem;
}

/** A month of the year up to the one that is reported. */
export interface MonthOfYear {
  readonly month: string;
  /** Null where nothing is known of it, or nothing of it is told. */
  readonly account: SaltAccount | null;
  /** Whether figures of a group are not told of it. */
  hides(group: FigureGroup): boolean;
}

/** The same, with what all sections go by. */
export interface Subject extends Omit<ReportGiven, 'accounts'> {
  readonly account: SaltAccount;
  /** What of the month is not told; nothing in the company's own form. */
  readonly withheld: Withheld;
  /** Whether figures of a group are not told of the month. */
  hides(group: FigureGroup): boolean;
  /** The month and the twelve before, the earliest first. */
  readonly year: readonly MonthOfYear[];
  readonly quantities: Quantities;
  readonly inWords: string;
}

/** What stands instead of a figure that is not told. */
export const WITHHELD = 'withheld';

/** @throws RangeError if there is no account of the month */
export function subjectOf({ accounts, ...given }: ReportGiven): Subject {
  const { region, month, isShared } = given;
  const own = new Map(
    accounts.filter(({ account }) => account.region === region).map((told) => [told.account.month, told]),
  );
  const told = own.get(month);
  if (!told) throw new RangeError(`there is no account of ${region} in ${month}`);
  const hiding = (withheld: Withheld | undefined) => (group: FigureGroup) =>
    isShared && (withheld?.all !== undefined || withheld?.[group] !== undefined);
  return {
    ...given,
    account: told.account,
    withheld: isShared ? told.withheld : {},
    hides: hiding(told.withheld),
    year: yearUpTo(month).map((each) => {
      const known = own.get(each);
      const hides = hiding(known?.withheld);
      return { month: each, account: known && !hides('all') ? known.account : null, hides };
    }),
    quantities: quantitiesIn(given.system),
    inWords: monthInWords(month),
  };
}

/** `1 softener`, `3 softeners`. */
export function softeners(count: number): string {
  return `${counted(count)} softener${count === 1 ? '' : 's'}`;
}
