import { believedGallons } from '../../unit/control.ts';
import type { Fault } from './fault.ts';

/** Settings that somebody got wrong. */
export const SETTING_FAULTS = {
  'capacity-setting': {
    named: () => ({ kind: 'overrun', cause: 'capacity-setting' }),
    also: [{ kind: 'setting-mismatch', cause: 'capacity-too-high' }],
    overrun: 'capacity-setting',
    by: 'hand',
    // 25 to 60 % too high, and the more the larger the reserve that makes up for it: overruns of 15 % and more.
    spoil: ({ programmed }, strength, typicalGallons) => {
      const least = 1.25 + (0.5 * typicalGallons) / believedGallons(programmed);
      const factor = least + strength * Math.max(0, 1.6 - least);
      const capacityGrains = Math.round((programmed.capacityGrains * factor) / 500) * 500;
      return { programmed: { ...programmed, capacityGrains } };
    },
    work: 'capacity programmed anew',
  },
  'capacity-too-low': {
    named: () => ({ kind: 'setting-mismatch', cause: 'capacity-too-low' }),
    also: [{ kind: 'early-regeneration', cause: 'capacity-setting' }],
    overrun: 'reserve-short',
    by: 'hand',
    // 20 to 50 % too low.
    spoil: ({ programmed }, strength) => {
      const capacityGrains = Math.round((programmed.capacityGrains * (0.8 - 0.3 * strength)) / 500) * 500;
      return { programmed: { ...programmed, capacityGrains } };
    },
    showsBy: 'regeneration',
    work: 'capacity programmed anew',
  },
  'hardness-understated': {
    named: () => ({ kind: 'setting-mismatch', cause: 'hardness-too-low' }),
    also: [{ kind: 'overrun', cause: 'capacity-setting' }],
    overrun: 'capacity-setting',
    by: 'hand',
    // 25 to 45 % too low.
    spoil: ({ programmed }, strength) => {
      const hardnessGpg = Math.round(programmed.hardnessGpg * (0.75 - 0.2 * strength));
      return { programmed: { ...programmed, hardnessGpg } };
    },
    work: 'hardness programmed anew',
  },
  'hardness-overstated': {
    named: () => ({ kind: 'setting-mismatch', cause: 'hardness-too-high' }),
    also: [{ kind: 'early-regeneration', cause: 'capacity-setting' }],
    overrun: 'reserve-short',
    by: 'hand',
    // 25 to 60 % too high.
    spoil: ({ programmed }, strength) => {
      const hardnessGpg = Math.round(programmed.hardnessGpg * (1.25 + 0.35 * strength));
      return { programmed: { ...programmed, hardnessGpg } };
    },
    showsBy: 'regeneration',
    work: 'hardness programmed anew',
  },
} as const satisfies Record<string, Fault>;
