import { type PastReplay, pastReplay } from '../lib/advice/settings/pastReplay.ts';
import { AdviceRefused, type Refusal } from '../lib/advice/settings/refusal.ts';
import type { MonthAccount } from '../lib/salt/monthAccount.ts';
import type { Store, StoredHead } from '../lib/store/store.ts';
import { toUnit, type Unit, type UnitRecord } from '../shared/registry.ts';
import type { Instant } from '../shared/time/instant.ts';
import { basisOf, type CompanyRules } from './companyCache.ts';
import { monthsOf } from './companySalt.ts';
import { standingFacts } from './unitFacts.ts';

/** A unit's head, its month accounts, and its past year, or why that does not tell. */
export interface KnownPast {
  readonly unit: Unit;
  /** Undefined before anything was heard of it. */
  readonly head: StoredHead['head'] | undefined;
  readonly months: readonly MonthAccount[];
  readonly past: PastReplay['replay'] | Refusal;
}

/** So many pasts are kept; some ten thousand bytes each. */
const MOST_PASTS = 4_000;

/**
 * The past years of units, ready to be replayed. To read all facts of a unit and to parse them takes far longer than to
 * replay them, so what came of them is kept until the unit's head, record or rules are others.
 */
export class UnitPasts {
  readonly #store: Store;
  readonly #kept = new Map<string, { readonly of: string; readonly past: KnownPast['past'] }>();

  constructor(store: Store) {
    this.#store = store;
  }

  /** @param until the end of the days that are owed */
  async of(record: UnitRecord, rules: CompanyRules, until: Instant): Promise<KnownPast> {
    const unit = toUnit(record);
    const [{ stored, version }, closed] = await Promise.all([
      this.#store.unit(record, { fresh: false }),
      this.#store.months(record),
    ]);
    const months = monthsOf(unit, closed, stored, until);
    if (!stored) return { unit, head: undefined, months, past: 'history-too-short' };
    const key = `${record.companyId}/${record.unitId}`;
    const of = `${version} ${basisOf(record, rules)}`;
    const kept = this.#kept.get(key);
    const past = kept?.of === of ? kept.past : await this.#read(record, unit, stored, rules);
    // The one that was asked for longest ago is the first to go.
    this.#kept.delete(key);
    this.#kept.set(key, { of, past });
    const [oldest] = this.#kept.keys();
    if (this.#kept.size > MOST_PASTS && oldest !== undefined) this.#kept.delete(oldest);
    return { unit, head: stored.head, months, past };
  }

  async #read(
    record: UnitRecord,
    unit: Unit,
    { head: { state, open } }: StoredHead,
    { rules }: CompanyRules,
  ): Promise<KnownPast['past']> {
    const facts = await standingFacts(this.#store, record, unit);
    try {
      return pastReplay(unit, { state, open, facts }, { rules: rules['setting-mismatch'] }).replay;
    } catch (error) {
      if (error instanceof AdviceRefused) return error.reason;
      throw error;
    }
  }
}
