import { PHYSICIAN_NOTE } from '../../softening/sodium.ts';
import type { Imagined } from './imagined.ts';

/** What stands beside every answer. */
const ALWAYS = [
  'Where the discharge of chloride is limited, the limits of your water authority count, not these figures.',
  'Local codes and licensed practice prevail. Nothing is changed at any control by asking.',
  'Use in the year to come is taken to be like that of the last: what changes for a whole region at once, such as a dry year, is not in the intervals.',
] as const;

/** What to mind about an answer, one sentence or two each. */
export function cautionsOf({ doseLbPerCubicFoot, reserve, salt }: Imagined): string[] {
  return [
    ...(doseLbPerCubicFoot === undefined
      ? []
      : [
          'Less salt a regeneration means more regenerations, more water, and more days of hard water where the reserve is short.',
        ]),
    ...(reserve === undefined
      ? []
      : [
          'Controls of today hold back the mean of the last seven days: another reserve takes another control.',
        ]),
    ...(salt === 'KCl'
      ? [
          PHYSICIAN_NOTE.KCl,
          'Potassium chloride is reckoned by equal equivalents. In practice it restores a bed a little less well, so that more of it is set (common practice, no source).',
        ]
      : []),
    ...ALWAYS,
  ];
}
