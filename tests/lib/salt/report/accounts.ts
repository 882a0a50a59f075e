import type { Estimate } from '../../../../lib/estimate/estimate.ts';
import type { ToldAccount } from '../../../../lib/salt/account/companyAccounts.ts';
import type { SaltAccount } from '../../../../lib/salt/account/saltAccount.ts';
import type { SaltNeed } from '../../../../lib/salt/deliveries/delivery.ts';
import { deliveryPlan } from '../../../../lib/salt/deliveries/deliveryPlan.ts';
import type { ReportGiven, ToBring } from '../../../../lib/salt/report/given.ts';
import { yearUpTo } from '../../../../lib/salt/report/months.ts';
import { chlorideLb } from '../../../../lib/softening/chloride.ts';
import { SODIUM_LB_PER_GRAIN, SODIUM_MASS_FRACTION } from '../../../../lib/softening/sodium.ts';

/** A week after the month that is reported. */
export const AS_OF = Date.UTC(2026, 3, 8, 5, 30);
export const MONTH = '2026-03';
export const REGION = 'alder-county';

/** An invented account of a region's month: so many units, all figures in proportion. */
export function accountOf(units: number, over: Partial<SaltAccount> = {}): SaltAccount {
  const saltLb = 41.37 * units;
  const grains = 118_000 * units;
  // Units err apart from each other, and all of them together a little.
  const half = 0.012 * saltLb + 4.1 * Math.sqrt(units);
  const salt = around(saltLb, half);
  return {
    ...{ region: REGION, month: MONTH, asOf: AS_OF, units },
    ...{ unitsReporting: Math.ceil(0.98 * units), unitsMeasured: Math.floor(0.41 * units) },
    ...{ daysExpected: 31 * units, daysCounted: 29 * units, daysImputed: units },
    ...{ regenerations: 5 * units, regenerationsImputed: 0.17 * units },
    ...{ treatedGallons: 5_617.3 * units, imputedGallons: 190.4 * units },
    waterGallons: around(5_807.7 * units, 33 * Math.sqrt(units)),
    ...{
      measuredSaltLb: 0.4 * saltLb,
      inferredSaltLb: 0.55 * saltLb,
      imputedSaltLb: 0.05 * saltLb,
      saltLb: salt,
    },
    drawnShare: { value: 0.964, low: 0.941, high: 0.987 },
    deliveredSaltLb: 38.2 * units,
    ...{ regenerationGallons: 214.6 * units, inferredRegenerationGallons: 66.1 * units },
    ...{ grainsRemoved: 0.96 * grains, imputedGrains: 0.04 * grains },
    grainsPerLb: { value: grains / saltLb, low: grains / salt.high, high: grains / Math.max(1, salt.low) },
    chlorideLb: scaled(salt, chlorideLb(1)),
    sodiumLb: scaled(salt, SODIUM_MASS_FRACTION),
    sodiumInWaterLb: grains * SODIUM_LB_PER_GRAIN,
    ...{ hardGallons: 23.7 * units, hardDays: Math.floor(0.4 * units) },
    asSet: { judged: units, nsf44: Math.floor(0.5 * units), california2002: Math.floor(0.2 * units) },
    inUse: {
      judged: Math.floor(0.8 * units),
      nsf44: Math.floor(0.3 * units),
      california2002: Math.floor(0.1 * units),
    },
    wastedLb: {
      ...{ leak: 0.51 * units, manual: 0.12 * units, 'calendar-limit': 0.9 * units, repeated: 0.02 * units },
      ...{
        'capacity-too-low': 1.7 * units,
        'hardness-too-high': 2.4 * units,
        reserve: 4.6 * units,
        dose: 6.3 * units,
      },
    },
    ...over,
  };
}

/** The month and the twelve before it, with one of which nothing is known. */
export function yearOf(units: number, over: Partial<SaltAccount> = {}): ToldAccount[] {
  return yearUpTo(MONTH)
    .filter((month) => month !== '2025-09')
    .map((month, index) => {
      const size = 0.85 + 0.03 * ((index * 5) % 7);
      const account = accountOf(units, { month, ...over });
      return {
        ...account,
        ...{ measuredSaltLb: size * account.measuredSaltLb, inferredSaltLb: size * account.inferredSaltLb },
        ...{ imputedSaltLb: size * account.imputedSaltLb, saltLb: scaled(account.saltLb, size) },
        chlorideLb: scaled(account.chlorideLb, size),
      };
    })
    .map((account) => ({ account, withheld: {} }));
}

/** The plan of so many houses with a date, a few of them late and some after the last week, and others without one. */
export function deliveriesOf(count: number, undated = 0): ToBring {
  const today = Math.floor(AS_OF / 86_400_000);
  const needs = Array.from({ length: count }, (_, index): SaltNeed => {
    const by = today + ((index * 11) % 40) - 2;
    return {
      is: 'dated',
      delivery: {
        unitId: `unit-${String(index + 1).padStart(4, '0')}`,
        region: REGION,
        round: index % 3 === 0 ? null : `round-${index % 3}`,
        by,
        runsOut: { p10: by + 1, p50: today + 45, p90: null },
        ...{ levelLb: 12 + (index % 9) * 4, levelDeviationLb: 3, roomLb: index % 4 === 0 ? null : 140 },
        ...{ levelBy: 'sensor', isEmpty: false, lbPerWeek: 7, bags: 3, bagChances: [0, 0, 1] },
        asked: { day: by, deviationDays: 2 },
      },
    };
  });
  const byRate = Array.from({ length: undated }, (_, index): SaltNeed => {
    const unitId = `unit-without-${index + 1}`;
    const rate = { lbPerWeek: 7.2 + (index % 5), bags: 3, why: 'no-sensor' as const };
    return { is: 'by-rate', byRate: { unitId, region: REGION, round: 'round-1', ...rate } };
  });
  return { ...deliveryPlan([...needs, ...byRate], today, { bagLb: 40 }), bagLb: 40 };
}

/** What a report is made of, with nothing odd about it. */
export function givenOf(units: number, over: Partial<ReportGiven> = {}): ReportGiven {
  return {
    ...{ company: 'Larkwater Softening', region: REGION, month: MONTH, accounts: yearOf(units) },
    method: [
      {
        ...{ id: 'salt', title: 'Salt of a month', formula: 'S = M + r (I + P); ± 1.2816 √Var S' },
        ...{ text: 'The sum of what was measured, inferred and imputed.', source: 'A test' },
      },
    ],
    ...{ isShared: false, leastUnits: 5, system: 'us' as const },
    ...over,
  };
}

function around(value: number, half: number): Estimate {
  return { value, low: Math.max(0, value - half), high: value + half };
}

function scaled({ value, low, high }: Estimate, factor: number): Estimate {
  return { value: value * factor, low: low * factor, high: high * factor };
}
