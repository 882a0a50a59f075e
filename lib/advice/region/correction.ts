import type { AlertCause } from '../../../shared/alerts.ts';
import type { Programmed, Unit } from '../../../shared/registry.ts';
import type { Estimate } from '../../estimate/estimate.ts';
import { estimateOf } from '../../estimate/interval.ts';
import { alertIdOf } from '../../live/transitions.ts';
import { bedCapacityGrains } from '../../softening/capacity.ts';
import type { UnitState } from '../../unit/state.ts';
import type { Episode } from '../../watch/episode.ts';
import { judgeSettings } from '../../watch/judgeSettings.ts';
import { ranked } from '../../watch/kind.ts';
import type { SettingMismatchRules } from '../../watch/rules/settingMismatch.ts';
import { isPlainlySound } from '../../watch/soundSettings.ts';
import type { Replay } from '../settings/outcome.ts';
import { LEAST_SAVING_LB } from '../settings/rollUp.ts';
import { type RightSettings, settingsFor } from '../settingsFor.ts';
import { unitWhatIf } from './unitWhatIf.ts';
import type { Measure } from './year.ts';
import { ofOneUnit } from './yearAhead.ts';

/** A visit that sets a control right, and what that brings in a year to come. */
export interface Correction {
  readonly unitId: string;
  readonly region: string;
  /** Which setting is probably wrong, and how probable it is that one is. */
  readonly cause: AlertCause | null;
  readonly probability: number;
  readonly programmed: Pick<Programmed, 'capacityGrains' | 'hardnessGpg'>;
  /** What to set, in whole thousands of grains; what it saves is by the margin that a fleet is given. */
  readonly set: RightSettings;
  /** By the doses on record, with 80 % intervals; below 0 what it costs: a control that regenerates in time uses more. */
  readonly saves: Readonly<Record<Saved, Estimate>>;
  /** Of the open alert that says so too; null without one. */
  readonly alertId: string | null;
}

export const SAVED = ['saltLb', 'chlorideLb', 'waterGallons', 'hardDays'] as const satisfies Measure[];

type Saved = (typeof SAVED)[number];

/** Fewer hard-water days a year than this are not worth a way either. A guess, no source. */
const LEAST_HARD_DAYS = 3;

/**
 * What setting a unit right would bring; null where its settings are probably sound, or where it would bring next to
 * nothing.
 */
export function correctionOf(
  unit: Unit,
  { state, open, replay }: { state: UnitState; open: readonly Episode[]; replay: Replay },
  rules: SettingMismatchRules,
): Correction | null {
  if (isPlainlySound(unit, state, rules)) return null;
  const judged = judgeSettings(unit, state, rules);
  // What is no more probable than an alert that clears is no reason for a visit.
  if (!judged || judged.probability < rules.clear) return null;
  const { ahead } = unitWhatIf(unit, { state, replay }, { corrected: true }, rules);
  const saved = (measure: Saved) => {
    return estimateOf({
      value: -ahead.difference.mean[measure],
      variance: ofOneUnit(ahead.difference, measure),
    });
  };
  const saves = {
    saltLb: saved('saltLb'),
    chlorideLb: saved('chlorideLb'),
    waterGallons: saved('waterGallons'),
    hardDays: saved('hardDays'),
  };
  if (saves.saltLb.value < LEAST_SAVING_LB && saves.hardDays.value < LEAST_HARD_DAYS) return null;
  const { programmed, bed, compensatedHardnessGpg } = state;
  const { resinCubicFeet } = unit;
  const curveGrains = bedCapacityGrains({ resinCubicFeet, saltDoseLb: bed.saltDoseLb });
  const alert = open.find(({ kind }) => kind === 'setting-mismatch');
  return {
    unitId: unit.unitId,
    region: unit.region,
    cause: ranked(judged.weights)[0]?.cause ?? null,
    probability: judged.probability,
    programmed: { capacityGrains: programmed.capacityGrains, hardnessGpg: programmed.hardnessGpg },
    set: settingsFor(curveGrains, compensatedHardnessGpg),
    saves,
    alertId: alert ? alertIdOf(alert) : null,
  };
}

/** The visits that save most salt, the best first; of equal ones in the order of unit ids. */
export function ranking(corrections: readonly Correction[]): Correction[] {
  return [...corrections].sort(
    (a, b) => b.saves.saltLb.value - a.saves.saltLb.value || (a.unitId < b.unitId ? -1 : 1),
  );
}
