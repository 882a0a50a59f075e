import type { Instant } from '../../../shared/time/instant.ts';
import { chlorideLb } from '../../softening/chloride.ts';
import { SODIUM_LB_PER_GRAIN, SODIUM_MASS_FRACTION } from '../../softening/sodium.ts';
import type { KnownMonths } from '../knownMonths.ts';
import { SUMMED, type UnitMonth, unitMonths } from '../unitMonths.ts';
import { addWasted, WASTE_CAUSES, type Wasted } from '../waste.ts';
import type { Estimate, SaltAccount } from './saltAccount.ts';
import type { SaltRules } from './saltRules.ts';

/** Salt accounts of a company's regions, added up unit by unit. */
export class SaltAccounts {
  readonly #until: Instant;
  readonly #rules: SaltRules;
  readonly #units: UnitMonth[] = [];

  /** @param until the end of the days that are owed */
  constructor(until: Instant, rules: SaltRules) {
    this.#until = until;
    this.#rules = rules;
  }

  add(known: KnownMonths) {
    this.#units.push(...unitMonths(known, this.#until));
  }

  /** The accounts, by region and month. */
  accounts(): SaltAccount[] {
    const groups = new Map<string, UnitMonth[]>();
    for (const unit of this.#units) {
      const key = `${unit.region} ${unit.month}`;
      const group = groups.get(key);
      if (group) group.push(unit);
      else groups.set(key, [unit]);
    }
    return [...groups]
      .sort(([a], [b]) => (a < b ? -1 : 1))
      .map(([, units]) => accountOf(units, this.#until, this.#rules));
  }
}

function accountOf(units: readonly UnitMonth[], asOf: Instant, { drawnShare }: SaltRules): SaltAccount {
  const [first] = units;
  if (!first) throw new RangeError('a region without units has no account');
  const sum = Object.fromEntries(
    SUMMED.map((name) => [name, units.reduce((total, unit) => total + unit[name], 0)]),
  ) as Record<(typeof SUMMED)[number], number>;
  const share = drawnShare.mean;
  const inferred = share * sum.inferredSaltLb;
  const imputed = share * sum.imputedSaltLb;
  const salt = sum.measuredSaltLb + inferred + imputed;
  const wasted = units.reduce<Wasted>((total, unit) => addWasted(total, unit.wasted), {});
  const grains = sum.grainsRemoved + sum.imputedGrains;
  return {
    region: first.region,
    month: first.month,
    asOf,
    units: units.length,
    unitsReporting: units.filter(({ daysCounted }) => daysCounted > 0).length,
    unitsMeasured: units.filter(({ measuredDoseLb }) => measuredDoseLb > 0).length,
    daysExpected: units.reduce((total, { daysExpected }) => total + daysExpected, 0),
    daysCounted: sum.daysCounted,
    daysImputed: sum.daysImputed,
    regenerations: sum.regenerations,
    regenerationsImputed: sum.regenerationsImputed,
    treatedGallons: sum.treatedGallons,
    imputedGallons: sum.imputedGallons,
    waterGallons: exactly(sum.treatedGallons + sum.imputedGallons),
    measuredSaltLb: sum.measuredSaltLb,
    inferredSaltLb: inferred,
    imputedSaltLb: imputed,
    saltLb: exactly(salt),
    drawnShare: exactly(share),
    deliveredSaltLb: sum.deliveredSaltLb,
    regenerationGallons: sum.regenerationGallons,
    inferredRegenerationGallons: sum.inferredRegenerationGallons,
    grainsRemoved: sum.grainsRemoved,
    imputedGrains: sum.imputedGrains,
    grainsPerLb: salt > 0 ? exactly(grains / salt) : null,
    chlorideLb: exactly(chlorideLb(Math.max(0, salt))),
    sodiumLb: exactly(Math.max(0, salt) * SODIUM_MASS_FRACTION),
    sodiumInWaterLb: grains * SODIUM_LB_PER_GRAIN,
    hardGallons: sum.hardGallons,
    hardDays: sum.hardDays,
    asSet: { judged: 0, nsf44: 0, california2002: 0 },
    inUse: { judged: 0, nsf44: 0, california2002: 0 },
    wastedLb: Object.fromEntries(
      WASTE_CAUSES.map((cause) => [cause, wasted[cause] ?? 0]),
    ) as SaltAccount['wastedLb'],
  };
}

function exactly(value: number): Estimate {
  return { value, low: value, high: value };
}
