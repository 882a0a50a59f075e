import type { Unit } from '../../../shared/registry.ts';
import { bedCapacityGrains } from '../../softening/capacity.ts';
import { chlorideLb } from '../../softening/chloride.ts';
import type { SettingMismatchRules } from '../../watch/settingMismatch.ts';
import { isPlainlySound } from '../../watch/soundSettings.ts';
import { settingsFor } from '../settingsFor.ts';
import { settingsToday } from './candidates.ts';
import { type Outcome, outcomeOf } from './outcome.ts';
import { type KnownUnit, pastReplay } from './pastReplay.ts';
import type { ControlSettings } from './replaySettings.ts';

/** What all controls of a region are imagined to be set to. */
export type Imagined =
  /** Every dose so many lb a cubic foot, and the capacity and hardness that go with it. */
  | { readonly doseLbPerCubicFoot: number }
  /** Every dose as it is; where capacity and hardness do not go with it and the water, they are made to. */
  | { readonly corrected: true };

/** A year of one unit, or of many together. */
export interface Year {
  readonly saltLb: number;
  readonly chlorideLb: number;
  /** Of the regenerations, US gallons. */
  readonly waterGallons: number;
  readonly hardDays: number;
}

/** The doses between which the capacity curve holds, lb a cubic foot. */
export const DOSE_RANGE = { least: 3, most: 15 } as const;

/**
 * A unit's year by its own past, as its control is set today and as it is imagined.
 *
 * @throws AdviceRefused where the past is too short or in doubt
 */
export function whatIf(
  unit: Unit,
  known: KnownUnit,
  imagined: Imagined,
  rules: SettingMismatchRules,
): { readonly today: Year; readonly imagined: Year } {
  const { replay } = pastReplay(unit, known, { rules });
  const today = settingsToday(known.state);
  return {
    today: yearOf(outcomeOf(replay, today)),
    imagined: yearOf(outcomeOf(replay, imaginedFor(unit, known, imagined, rules, today))),
  };
}

/** The years of many units together. */
export function together(years: readonly Year[]): Year {
  const sum = (of: (year: Year) => number) => years.reduce((total, year) => total + of(year), 0);
  return {
    saltLb: sum(({ saltLb }) => saltLb),
    chlorideLb: sum((year) => year.chlorideLb),
    waterGallons: sum(({ waterGallons }) => waterGallons),
    hardDays: sum(({ hardDays }) => hardDays),
  };
}

function imaginedFor(
  unit: Unit,
  { state }: KnownUnit,
  imagined: Imagined,
  rules: SettingMismatchRules,
  today: ControlSettings,
): ControlSettings {
  const { resinCubicFeet } = unit;
  if ('corrected' in imagined && isPlainlySound(unit, state, rules)) return today;
  const saltDoseLb =
    'corrected' in imagined ? today.saltDoseLb : imagined.doseLbPerCubicFoot * resinCubicFeet;
  const capacityGrains = bedCapacityGrains({ resinCubicFeet, saltDoseLb });
  return { ...today, saltDoseLb, ...settingsFor(capacityGrains, state.compensatedHardnessGpg) };
}

function yearOf({ saltLbAYear, waterGallonsAYear, hardDaysAYear }: Outcome): Year {
  return {
    saltLb: saltLbAYear,
    chlorideLb: chlorideLb(saltLbAYear),
    waterGallons: waterGallonsAYear,
    hardDays: hardDaysAYear,
  };
}
