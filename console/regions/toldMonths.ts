import type { Estimate } from '../../lib/estimate/estimate.ts';
import type { SaltAccount } from '../../lib/salt/account/saltAccount.ts';
import type { components } from '../api/generated/api.d.ts';

/** A month as the service tells it, by the columns of the accounts: those of a region have its name beside them. */
export type ToldMonth = components['schemas']['SaltTotal'];

/** The account of one month, of one region or of all of them together. US units. */
export type RegionMonth = Omit<SaltAccount, 'region' | 'asOf'>;

/** Takes a month from what is told of it. */
export function monthOf(told: ToldMonth): RegionMonth {
  return {
    month: told.month,
    units: told.units,
    unitsReporting: told.units_reporting,
    unitsMeasured: told.units_measured,
    daysExpected: told.unit_days_owed,
    daysCounted: told.unit_days,
    daysImputed: told.unit_days_imputed,
    regenerations: told.regenerations,
    regenerationsImputed: told.regenerations_imputed,
    treatedGallons: told.water_metered_gal,
    imputedGallons: told.water_imputed_gal,
    waterGallons: estimate(told.water_treated_gal, told.water_treated_low_gal, told.water_treated_high_gal),
    measuredSaltLb: told.salt_measured_lb,
    inferredSaltLb: told.salt_inferred_lb,
    imputedSaltLb: told.salt_imputed_lb,
    saltLb: estimate(told.salt_used_lb, told.salt_used_low_lb, told.salt_used_high_lb),
    drawnShare: estimate(told.drawn_share, told.drawn_share_low, told.drawn_share_high),
    deliveredSaltLb: told.salt_delivered_lb,
    regenerationGallons: told.regeneration_water_metered_gal,
    inferredRegenerationGallons: told.regeneration_water_inferred_gal,
    grainsRemoved: told.grains_removed,
    imputedGrains: told.grains_imputed,
    grainsPerLb:
      told.grains_per_lb === null
        ? null
        : estimate(told.grains_per_lb, told.grains_per_lb_low, told.grains_per_lb_high),
    chlorideLb: estimate(told.chloride_lb, told.chloride_low_lb, told.chloride_high_lb),
    sodiumLb: estimate(told.sodium_lb, told.sodium_low_lb, told.sodium_high_lb),
    sodiumInWaterLb: told.sodium_in_water_lb,
    hardGallons: told.hard_water_gal,
    hardDays: told.hard_water_days,
    asSet: {
      judged: told.units_judged_as_set,
      nsf44: told.units_rated_as_set,
      california2002: told.units_california_as_set,
    },
    inUse: {
      judged: told.units_judged_in_use,
      nsf44: told.units_rated_in_use,
      california2002: told.units_california_in_use,
    },
    wastedLb: {
      leak: told.salt_wasted_leak_lb,
      manual: told.salt_wasted_manual_lb,
      'calendar-limit': told.salt_wasted_calendar_limit_lb,
      repeated: told.salt_wasted_repeated_lb,
      'capacity-too-low': told.salt_wasted_capacity_too_low_lb,
      'hardness-too-high': told.salt_wasted_hardness_too_high_lb,
      reserve: told.salt_wasted_reserve_lb,
      dose: told.salt_wasted_dose_lb,
    },
  };
}

/** Without a bound it is as sure as it stands. */
function estimate(value: number, low: number | null, high: number | null): Estimate {
  return { value, low: low ?? value, high: high ?? value };
}
