import { PHYSICIAN_NOTE } from '../../softening/sodium.ts';
import type { Imagined } from './imagined.ts';
import type { RegionsWhatIf } from './regionsWhatIf.ts';
import { NEARLY_A_YEAR_DAYS, type ReplayedOf } from './replayedDays.ts';

/** What stands beside every answer. */
const ALWAYS = [
  'Where the discharge of chloride is limited, the limits of your water authority count, not these figures.',
  'Local codes and licensed practice prevail. Nothing is changed at any control by asking.',
  'Use in the year to come is taken to be like that of the last: what changes for a whole region at once, such as a dry year, is not in the intervals.',
] as const;

/** What to mind about an answer, one sentence or two each. */
export function cautionsOf(
  { doseLbPerCubicFoot, corrected, reserve, salt }: Imagined,
  { doses, replayed }: Pick<RegionsWhatIf, 'doses' | 'replayed'>,
): string[] {
  return [
    ...(replayed ? daysCautions(replayed) : []),
    ...(doses.lower > 0
      ? [
          `Less salt a regeneration, as of ${unitsWords(doses.lower)} here, means more regenerations, more water, and more days of hard water where the reserve is short.`,
        ]
      : []),
    ...(doses.higher > 0
      ? [
          `More salt a regeneration, as of ${unitsWords(doses.higher)} here, means fewer regenerations and less water, but more salt and chloride for the hardness taken out.`,
        ]
      : []),
    ...(doseLbPerCubicFoot === undefined && !corrected
      ? []
      : [
          'It rests on a capacity curve that is partly from memory; below 6 lb a cubic foot it is drawn through nothing.',
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

/** What is said where a year rests on less than one. */
function daysCautions({ medianDays, leastDays, unitsShort, from, to }: ReplayedOf): string[] {
  if (medianDays < NEARLY_A_YEAR_DAYS) {
    return [
      `A year is told from ${medianDays} days, ${spanWords(from, to)} (the middle one of the units; the fewest are ${leastDays}); other seasons are not in it.`,
    ];
  }
  if (unitsShort === 0) return [];
  return [
    `Of ${unitsWords(unitsShort)} a year is told from fewer than ${NEARLY_A_YEAR_DAYS} days, at the least from ${leastDays}; other seasons of theirs are not in it.`,
  ];
}

function spanWords(from: string, to: string): string {
  return from.slice(0, 7) === to.slice(0, 7) ? monthWord(from) : `${monthWord(from)} to ${monthWord(to)}`;
}

function monthWord(date: string): string {
  return new Intl.DateTimeFormat('en-US', { month: 'long', timeZone: 'UTC' }).format(new Date(date));
}

function unitsWords(units: number): string {
  return `${units} ${units === 1 ? 'unit' : 'units'}`;
}
