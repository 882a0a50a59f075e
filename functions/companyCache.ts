import { createHash } from 'node:crypto';
import type { Store } from '../lib/store/store.ts';
import type { Rules } from '../lib/watch/rules.ts';
import type { Unit, UnitRecord } from '../shared/registry.ts';
import type { Instant } from '../shared/time/instant.ts';
import { toUnit } from '../shared/toUnit.ts';
import { rulesOf } from './rulesOf.ts';

/** How long a company's registry and rules are taken for unchanged before the table is asked, unless one is told. */
const FRESH_MS = 600_000;
/** So many units are kept of a company; a few hundred bytes each. */
const MOST_UNITS = 50_000;

/** The rules of a company, and what tells them from others. */
export interface CompanyRules {
  readonly rules: Rules;
  readonly fingerprint: string;
}

interface Entry {
  revision: string;
  checkedAt: Instant;
  units: Map<string, Unit>;
  rules: Promise<CompanyRules> | undefined;
}

/**
 * What handlers know of companies between invocations: units by id, and rules. One small read every few minutes
 * tells whether the company has changed anything, which is less than a read for every event. What is old does no harm:
 * states are folded by the record as it stands, and rules that change are told of.
 */
export class CompanyCache {
  readonly #store: Store;
  readonly #now: () => Instant;
  readonly #entries = new Map<string, Entry>();

  constructor({ store, now }: { store: Store; now: () => Instant }) {
    this.#store = store;
    this.#now = now;
  }

  /** The units of those ids that the company has. One that is not known yet is asked for every time. */
  async units(companyId: string, unitIds: Iterable<string>): Promise<ReadonlyMap<string, Unit>> {
    const { units } = await this.#entry(companyId);
    const wanted = [...new Set(unitIds)];
    const missing = wanted.filter((unitId) => !units.has(unitId));
    if (units.size + missing.length > MOST_UNITS) units.clear();
    await Promise.all(
      missing.map(async (unitId) => {
        const { record } = await this.#store.unit({ companyId, unitId }, { fresh: true });
        if (record) units.set(unitId, toUnit(record));
      }),
    );
    return new Map(
      wanted.flatMap((unitId) => {
        const unit = units.get(unitId);
        return unit ? [[unitId, unit] as const] : [];
      }),
    );
  }

  /** @param changed whether they may have changed just now */
  async rules(companyId: string, { changed }: { changed: boolean }): Promise<CompanyRules> {
    const entry = await this.#entry(companyId, changed);
    entry.rules ??= this.#readRules(companyId).catch((error) => {
      entry.rules = undefined;
      throw error;
    });
    return entry.rules;
  }

  async #readRules(companyId: string): Promise<CompanyRules> {
    const company = await this.#store.company(companyId);
    const rules = await rulesOf(company);
    return { rules, fingerprint: fingerprintOf(JSON.stringify(rules)) };
  }

  async #entry(companyId: string, changed = false): Promise<Entry> {
    const known = this.#entries.get(companyId);
    const now = this.#now();
    if (known && !changed && now - known.checkedAt < FRESH_MS) return known;
    const revision = await this.#store.revision(companyId);
    if (known?.revision === revision) {
      known.checkedAt = now;
      return known;
    }
    const entry: Entry = { revision, checkedAt: now, units: new Map(), rules: undefined };
    this.#entries.set(companyId, entry);
    return entry;
  }
}

/** What a unit's state is folded by beside its facts: when it changes, the state is folded anew. */
export function basisOf(record: UnitRecord, { fingerprint }: CompanyRules): string {
  return fingerprintOf(`${JSON.stringify(record)} ${fingerprint}`);
}

function fingerprintOf(text: string): string {
  return createHash('sha256').update(text).digest('base64url').slice(0, 8);
}
