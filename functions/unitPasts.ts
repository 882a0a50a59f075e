import { type LastYear, lastYear } from '../lib/advice/region/lastYear.ts';
import { type PastReplay, pastReplay } from '../lib/advice/settings/pastReplay.ts';
import { AdviceRefused, type Refusal } from '../lib/advice/settings/refusal.ts';
import type { Store, StoredHead } from '../lib/store/store.ts';
import type { Unit, UnitRecord } from '../shared/registry.ts';
import type { Instant } from '../shared/time/instant.ts';
import { toUnit } from '../shared/toUnit.ts';
import { basisOf, type CompanyRules } from './companyCache.ts';
import { monthsOf } from './companySalt.ts';
import { standingFacts } from './unitFacts.ts';

/** A unit's head, and what came of its facts and month accounts. */
export interface KnownPast extends Past {
  readonly unit: Unit;
  /** Undefined before anything was heard of it. */
  readonly head: StoredHead['head'] | undefined;
}

/** What is kept of a unit. */
interface Past {
  /** Its past year ready to be replayed, or why it does not tell. */
  readonly past: PastReplay['replay'] | Refusal;
  /** What its accounts tell; undefined where they tell nothing. */
  readonly lastYear: LastYear | undefined;
}

/** So many pasts are kept; some ten thousand bytes each. */
const MOST_PASTS = 4_000;

/**
 * The past years of units, ready to be replayed. To read all facts of a unit and to parse them takes far longer than to
 * replay them, so what came of them is kept until the unit's head, record or rules are others.
 */
export class UnitPasts {
  readonly #store: Store;
  readonly #kept = new Map<string, { readonly of: string; readonly known: Past }>();

  constructor(store: Store) {
    this.#store = store;
  }

  /** @param until the end of the days that are owed */
  async of(record: UnitRecord, rules: CompanyRules, until: Instant): Promise<KnownPast> {
    const unit = toUnit(record);
    const { stored, version } = await this.#store.unit(record, { fresh: false });
    if (!stored) return { unit, head: undefined, past: 'history-too-short', lastYear: undefined };
    const key = `${record.companyId}/${record.unitId}`;
    const of = `${version} ${basisOf(record, rules)}`;
    const kept = this.#kept.get(key);
    const known = kept?.of === of ? kept.known : await this.#read(record, unit, stored, rules, until);
    // The one that was asked for longest ago is the first to go.
    this.#kept.delete(key);
    this.#kept.set(key, { of, known });
    const [oldest] = this.#kept.keys();
    if (this.#kept.size > MOST_PASTS && oldest !== undefined) this.#kept.delete(oldest);
    return { unit, head: stored.head, ...known };
  }

  async #read(
    record: UnitRecord,
    unit: Unit,
    stored: StoredHead,
    { rules }: CompanyRules,
    until: Instant,
  ): Promise<Past> {
    const { state, open } = stored.head;
    const [facts, closed] = await Promise.all([
      standingFacts(this.#store, record, unit),
      this.#store.months(record),
    ]);
    const ofAccounts = lastYear(monthsOf(unit, closed, stored, until));
    try {
      const { replay } = pastReplay(unit, { state, open, facts }, { rules: rules['setting-mismatch'] });
      return { past: replay, lastYear: ofAccounts };
    } catch (error) {
      if (error instanceof AdviceRefused) return { past: error.reason, lastYear: ofAccounts };
      throw error;
    }
  }
}
