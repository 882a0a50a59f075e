import type { AlertKind } from '../../../shared/alerts.ts';
import type { Unit } from '../../../shared/registry.ts';
import { alertIdOf } from '../../live/transitions.ts';
import type { WasteCause } from '../../salt/waste.ts';
import type { Episode } from '../../watch/episode.ts';
import { DAYS_A_YEAR } from '../settings/pastUse.ts';
import { LEAST_SAVING_LB } from '../settings/rollUp.ts';
import type { LastYear } from './lastYear.ts';

/** What a unit wasted in its last year that no replay tells of: what settings do not mend, or settings not known. */
export interface Wasting {
  readonly unitId: string;
  readonly region: string;
  readonly cause: WastedOn;
  /** Salt, lb a year, by the rate of the days that there are accounts of. */
  readonly saltLb: number;
  /** Of the open alert that says so too; null without one. */
  readonly alertId: string | null;
}

/** The kind of alert that tells of each cause. */
const ALERT = {
  leak: 'continuous-flow',
  manual: 'early-regeneration',
  repeated: 'early-regeneration',
  'calendar-limit': 'early-regeneration',
  'capacity-too-low': 'setting-mismatch',
  'hardness-too-high': 'setting-mismatch',
} as const satisfies Partial<Record<WasteCause, AlertKind>>;

export type WastedOn = keyof typeof ALERT;

/** What no setting mends. */
const NO_SETTING = ['leak', 'manual', 'repeated', 'calendar-limit'] as const;
export const WASTED_ON: readonly WastedOn[] = [...NO_SETTING, 'capacity-too-low', 'hardness-too-high'];

/**
 * What a unit wasted, where that is worth a visit.
 *
 * @param isReplayed whether a replay tells what its settings cost
 */
export function wastingOf(
  { unitId, region }: Unit,
  { days, wasted }: LastYear,
  open: readonly Episode[],
  isReplayed: boolean,
): Wasting[] {
  return (isReplayed ? NO_SETTING : WASTED_ON).flatMap((cause) => {
    const saltLb = ((wasted[cause] ?? 0) * DAYS_A_YEAR) / days;
    if (saltLb < LEAST_SAVING_LB) return [];
    const alert = open.find(({ kind }) => kind === ALERT[cause]);
    return [{ unitId, region, cause, saltLb, alertId: alert ? alertIdOf(alert) : null }];
  });
}
