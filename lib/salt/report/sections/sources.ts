import { CAPACITY_POINTS } from '../../../softening/capacity.ts';
import { CHLORIDE_CRITERIA, CHLORIDE_MASS_FRACTION } from '../../../softening/chloride.ts';
import { EFFICIENCY_RULES } from '../../../softening/efficiency.ts';
import { regenerationGallons } from '../../../softening/regenerationWater.ts';
import { SODIUM_LB_PER_GRAIN, SODIUM_MASS_FRACTION } from '../../../softening/sodium.ts';
import type { Sourced } from '../../../softening/sourced.ts';
import { counted } from '../../rounding.ts';
import { type Section, table, text } from '../content.ts';
import { asksFor } from './efficiency.ts';

interface Cited extends Sourced {
  readonly figure: string;
}

const MOLAR = { source: 'standard atomic weights', basis: 'computed' } as const;

/** Every published figure that the accounts go by, with where it comes from and how far that was looked up. */
export function sources(): Section {
  return {
    id: 'sources',
    title: 'Sources of published figures',
    blocks: [
      text(
        'How each figure came to stand here says how far to trust it: what is from memory was not looked up.',
        'quiet',
      ),
      table({
        caption: 'Published figures and their sources',
        columns: [
          { head: 'Figure', share: 0.4 },
          { head: 'Source', share: 0.38 },
          { head: 'How it is known', share: 0.22 },
        ],
        rows: cited().map(({ figure, source, basis }) => [figure, source, basis]),
      }),
    ],
  };
}

function cited(): Cited[] {
  return [
    { figure: `Chloride in sodium chloride, by mass: ${CHLORIDE_MASS_FRACTION.NaCl.toFixed(4)}`, ...MOLAR },
    { figure: `Sodium in sodium chloride, by mass: ${SODIUM_MASS_FRACTION.toFixed(4)}`, ...MOLAR },
    {
      figure: `Sodium into softened water: ${(SODIUM_LB_PER_GRAIN * 1e6).toFixed(1)} lb per million grains removed`,
      ...MOLAR,
    },
    {
      figure: `Water of a regeneration that is not metered: about ${regenerationGallons(1)} gal per cubic foot of resin`,
      source: 'AWWA/ASCE, Water Treatment Plant Design, ch. 12, p. 12.46',
      basis: 'read in the source',
    },
    ...CAPACITY_POINTS.filter(({ doseLbPerCubicFoot }) => doseLbPerCubicFoot > 0).map(
      ({ doseLbPerCubicFoot, grainsPerCubicFoot, source, basis }) => ({
        figure: `Capacity at ${doseLbPerCubicFoot} lb per cubic foot: ${counted(grainsPerCubicFoot)} grains per cubic foot`,
        source,
        basis,
      }),
    ),
    ...EFFICIENCY_RULES.map((rule) => ({
      figure: `${rule.title}: ${asksFor(rule)}`,
      source: rule.source,
      basis: rule.basis,
    })),
    ...CHLORIDE_CRITERIA.map(({ protects, mgPerL, source, basis }) => ({
      figure: `Chloride, ${protects}: ${mgPerL} mg/L`,
      source,
      basis,
    })),
  ];
}
