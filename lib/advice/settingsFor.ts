/** What is programmed on a control for a bed and its water. */
export interface RightSettings {
  readonly capacityGrains: number;
  readonly hardnessGpg: number;
}

const CAPACITY_STEP_GRAINS = 1000;
/** Conversion from metric units leaves crumbs: so little above a whole gpg, or below a whole thousand, is none. */
const CRUMB_GPG = 0.05;
const CRUMB_GRAINS = 10;

/**
 * What should be programmed: the capacity that the salt dose gives in whole thousands of grains, rounded down, and the
 * compensated hardness in whole gpg, rounded up, so that both errors lie on the soft side. Common practice, no source.
 */
export function settingsFor(capacityGrains: number, compensatedHardnessGpg: number): RightSettings {
  const thousands = Math.floor((capacityGrains + CRUMB_GRAINS) / CAPACITY_STEP_GRAINS);
  return {
    // A bed of less than a thousand is no softener of the trade; a capacity of 0 would never be right.
    capacityGrains: thousands > 0 ? thousands * CAPACITY_STEP_GRAINS : Math.floor(capacityGrains),
    hardnessGpg: Math.max(1, Math.ceil(compensatedHardnessGpg - CRUMB_GPG)),
  };
}
