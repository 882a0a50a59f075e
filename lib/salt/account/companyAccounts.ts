import type { Instant } from '../../../shared/time/instant.ts';
import type { KnownMonths } from '../knownMonths.ts';
import { type UnitMonth, unitMonths } from '../unitMonths.ts';
import { type AccountsFile, cellsOf, totalCellsOf, type Withheld } from './accountsFile.ts';
import { asOneRegion } from './asOneRegion.ts';
import { RegionContributions } from './contributions.ts';
import type { SaltAccount } from './saltAccount.ts';
import { SaltAccounts } from './saltAccounts.ts';
import type { SaltRules } from './saltRules.ts';
import { withheldOf } from './suppressed.ts';

/** An account, with what of it is not to be shared. */
export interface ToldAccount {
  readonly account: SaltAccount;
  readonly withheld: Withheld;
}

/** The accounts of a company as they leave the system, added up unit by unit. */
export class CompanyAccounts {
  readonly #until: Instant;
  readonly #rules: SaltRules;
  readonly #accounts: SaltAccounts;
  /** Of all regions as one: bounds of regions do not add up, nor units that moved. */
  readonly #totals: SaltAccounts;
  readonly #contributions = new RegionContributions();

  /** @param until the end of the days that are owed */
  constructor(until: Instant, rules: SaltRules) {
    this.#until = until;
    this.#rules = rules;
    this.#accounts = new SaltAccounts(until, rules);
    this.#totals = new SaltAccounts(until, rules);
  }

  /** Adds a unit; returns its months, for who needs them, too. */
  add(known: KnownMonths): UnitMonth[] {
    const months = unitMonths(known, this.#until);
    this.#accounts.add(known);
    this.#totals.add(asOneRegion(known));
    this.#contributions.add(months);
    return months;
  }

  /** The accounts by region and month. */
  told(): ToldAccount[] {
    const accounts = this.#accounts.accounts();
    const rows = accounts.map((account) => ({ account, contributions: this.#contributions.of(account) }));
    const withheld = withheldOf(rows, this.#rules.leastUnitsTold);
    return accounts.map((account, index) => ({ account, withheld: withheld[index] ?? { all: 'few-units' } }));
  }

  /** The same to be kept as a file. */
  file(told: readonly ToldAccount[] = this.told()): AccountsFile {
    return {
      asOf: this.#until,
      items: told.map(({ account }) => cellsOf(account)),
      withheld: told.map(({ withheld }) => withheld),
      totals: this.#totals.accounts().map(totalCellsOf),
    };
  }
}
