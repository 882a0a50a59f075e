import { freshBed } from '../../unit/bed.ts';
import { compareWithRules, type Efficiency, type RuleComparison } from './efficiencyFigures.ts';
import { DAYS_A_YEAR, type PastUse } from './pastUse.ts';
import type { RegenerationWater } from './regenerationWater.ts';
import {
  type ControlSettings,
  type ReplayedSettings,
  type ReserveRule,
  replaySettings,
  type Site,
} from './replaySettings.ts';

/** A year under some settings, by the rate of the days replayed. */
export interface Outcome {
  readonly settings: ControlSettings;
  readonly regenerationsAYear: number;
  readonly saltLbAYear: number;
  /** Water of the regenerations, US gallons. */
  readonly waterGallonsAYear: number;
  /** Local days on which water was drawn from a bed that had run out, and that water in US gallons. */
  readonly hardDaysAYear: number;
  readonly hardGallonsAYear: number;
}

/** What an outcome means for salt efficiency. */
export interface OutcomeEfficiency {
  /** Whole bed for whole dose. */
  readonly rated: Efficiency;
  /** Hardness of the raw water that was taken out, over the salt and water of a year: a reserve regenerated unused costs. */
  readonly inUse: Efficiency;
  readonly rules: readonly RuleComparison[];
}

/** All that outcomes of one unit have in common. */
export interface Replay {
  readonly site: Site;
  readonly use: PastUse;
  readonly water: RegenerationWater;
}

/** Replays past use under some settings and puts it as a year. */
export function outcomeOf(replay: Replay, settings: ControlSettings, reserve?: ReserveRule): Outcome {
  return yearOf(replay, settings, replaySettings(replay.site, replay.use, settings, reserve));
}

function yearOf({ water }: Replay, settings: ControlSettings, replayed: ReplayedSettings): Outcome {
  const years = replayed.days / DAYS_A_YEAR;
  const regenerationsAYear = replayed.cycles / years;
  return {
    settings,
    regenerationsAYear,
    saltLbAYear: regenerationsAYear * settings.saltDoseLb,
    waterGallonsAYear: regenerationsAYear * water.gallonsAt(settings.saltDoseLb),
    hardDaysAYear: replayed.hardDays / years,
    hardGallonsAYear: replayed.hardGallons / years,
  };
}

/** What a dose gives, whole bed for whole dose, and how that compares with the published rules. */
export function ratedOf({ site, water }: Replay, { saltDoseLb }: ControlSettings) {
  const { capacityGrains } = freshBed(site.resinCubicFeet, saltDoseLb, site.alternating);
  const rated = efficiency(capacityGrains, saltDoseLb, water.gallonsAt(saltDoseLb));
  return { rated, rules: compareWithRules(rated) };
}

/** The efficiency of an outcome, as it is certified and as it is used. */
export function efficiencyOf(replay: Replay, outcome: Outcome, rawHardnessGpg: number): OutcomeEfficiency {
  const { gallons } = replay.use;
  const drawnGallons = gallons.reduce((sum, each) => sum + each, 0);
  const softenedGallons = (drawnGallons * DAYS_A_YEAR) / gallons.length - outcome.hardGallonsAYear;
  return {
    ...ratedOf(replay, outcome.settings),
    inUse: efficiency(softenedGallons * rawHardnessGpg, outcome.saltLbAYear, outcome.waterGallonsAYear),
  };
}

function efficiency(grains: number, saltLb: number, waterGallons: number): Efficiency {
  return { grainsPerLb: grains / saltLb, gallonsPerThousandGrains: (1000 * waterGallons) / grains };
}
