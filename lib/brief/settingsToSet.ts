import type { AlertCause } from '../../shared/alerts.ts';
import type { Unit } from '../../shared/registry.ts';
import { settingsFor } from '../advice/settingsFor.ts';
import type { UnitState } from '../unit/state.ts';
import type { Episode } from '../watch/episode.ts';
import type { SettingMismatchRules } from '../watch/rules/settingMismatch.ts';
import { otherCapacities, sumOf } from '../watch/settingsInForce.ts';
import { whyImpossible } from '../watch/soundSettings.ts';
import type { Brief } from './briefSchema.ts';

/** What is more probable than not is in doubt. */
const MORE_THAN_NOT = 0.5;
const OF_SETTINGS: ReadonlySet<AlertCause | null> = new Set(['capacity-setting']);

/**
 * What is programmed beside what the salt dose and the water call for. Only where the settings are in doubt is anything
 * to be set: a company that rounds otherwise is not to be corrected at each visit.
 */
export function settingsToSet(
  unit: Unit,
  state: UnitState,
  open: readonly Episode[],
  rules: SettingMismatchRules,
): Brief['settings'] {
  const { programmed, bed } = state;
  const right = settingsFor(bed.capacityGrains, state.compensatedHardnessGpg);
  const inDoubt =
    open.some(({ kind, cause }) => kind === 'setting-mismatch' || OF_SETTINGS.has(cause)) ||
    state.count.settings === 'lost' ||
    whyImpossible(unit, state, rules) !== null ||
    sumOf(otherCapacities(unit, state, rules)) > MORE_THAN_NOT;
  const toSet = (value: number, now: number) => (inDoubt && value !== Math.round(now) ? value : null);
  return {
    inDoubt,
    rows: [
      {
        setting: 'capacityGrains',
        programmed: programmed.capacityGrains,
        set: toSet(right.capacityGrains, programmed.capacityGrains),
      },
      {
        setting: 'hardnessGpg',
        programmed: programmed.hardnessGpg,
        set: toSet(right.hardnessGpg, programmed.hardnessGpg),
      },
      { setting: 'saltDoseLb', programmed: bed.saltDoseLb, set: null },
      { setting: 'regenerationHour', programmed: programmed.regenerationHour, set: null },
    ],
  };
}
