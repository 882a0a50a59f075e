import type { Instant } from '../../../shared/time/instant.ts';
import type { Estimate } from '../../estimate/estimate.ts';
import type { WasteCause } from '../waste.ts';

/** How many units meet a published efficiency figure, of those that could be judged. */
export interface EfficiencyCount {
  readonly judged: number;
  /** NSF/ANSI 44, efficiency rated. */
  readonly nsf44: number;
  /** California's figure for those installed since 2002. */
  readonly california2002: number;
}

/** The salt account of one region, month and company: what an analyst stands for. */
export interface SaltAccount {
  readonly region: string;
  /** `YYYY-MM` of the sites' zones. */
  readonly month: string;
  /** Facts known until then are in it. */
  readonly asOf: Instant;
  /** Units that owed a day or gave anything; those with a flow day; those of which a level sensor measured salt. */
  readonly units: number;
  readonly unitsReporting: number;
  readonly unitsMeasured: number;
  /** Local days owed, reported, and estimated since they were not. */
  readonly daysExpected: number;
  readonly daysCounted: number;
  readonly daysImputed: number;
  /** As reported, and as expected on days without a report. */
  readonly regenerations: number;
  readonly regenerationsImputed: number;
  /** Treated water as metered, and as expected on days without a report, US gallons. */
  readonly treatedGallons: number;
  readonly imputedGallons: number;
  /** All of that. */
  readonly waterGallons: Estimate;
  /** Salt used, lb: by level sensors, by dose, and on days without a report. The three add up to the value of `saltLb`. */
  readonly measuredSaltLb: number;
  readonly inferredSaltLb: number;
  readonly imputedSaltLb: number;
  readonly saltLb: Estimate;
  /** What the inferred and imputed doses on record were multiplied by: what sensors saw drawn of a dose. */
  readonly drawnShare: Estimate;
  /** Salt that technicians brought, lb. */
  readonly deliveredSaltLb: number;
  /** Water of regenerations, US gallons: as metered, and by the published figure where it was not. */
  readonly regenerationGallons: number;
  readonly inferredRegenerationGallons: number;
  /** Hardness removed, grains as CaCO3: of metered water, and of water expected on days without a report. */
  readonly grainsRemoved: number;
  readonly imputedGrains: number;
  /** All grains over all salt; null without salt. */
  readonly grainsPerLb: Estimate | null;
  /** Chloride to the drain, lb. */
  readonly chlorideLb: Estimate;
  /** Sodium, lb: all that the salt brought, and of that what left with the softened water instead of the brine. */
  readonly sodiumLb: Estimate;
  readonly sodiumInWaterLb: number;
  /** Water that came through hard, US gallons, and unit-days on which some did. */
  readonly hardGallons: number;
  readonly hardDays: number;
  /** By what dose and water of a regeneration give, whole bed for whole dose; and by salt and water of the last 12 months. */
  readonly asSet: EfficiencyCount;
  readonly inUse: EfficiencyCount;
  /** Salt used that the water would not have needed, by what it was spent on, lb. */
  readonly wastedLb: Readonly<Record<WasteCause, number>>;
}
