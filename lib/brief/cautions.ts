import { addedMgPerL } from '../softening/sodium.ts';

/** What to mind on the spot. */
interface Caution {
  readonly about: string;
  readonly words: string;
  readonly source: string;
}

const PRACTICE = 'common practice, no source';

/**
 * The usual cautions.
 *
 * @param hardnessGpg hardness that the softener removes, gpg
 */
export function cautionsFor(hardnessGpg: number): Caution[] {
  const sodium = Math.round(addedMgPerL(hardnessGpg, 'NaCl'));
  const potassium = Math.round(addedMgPerL(hardnessGpg, 'KCl'));
  return [
    {
      about: 'Mains electricity',
      words: 'Unplug the control before you open it, and keep water away from the outlet.',
      source: PRACTICE,
    },
    {
      about: 'Pressure',
      words:
        'Before you open a valve, the meter or the tank, put the softener on bypass and relieve its pressure.',
      source: PRACTICE,
    },
    {
      about: 'Brine and salt dust',
      words: 'They irritate eyes, skin and lungs and corrode metal: gloves and glasses; rinse what is spilt.',
      source: PRACTICE,
    },
    {
      about: 'Drinking water',
      words: `By calculation, softening this water adds about ${sodium} mg/L of sodium, or ${potassium} mg/L of potassium with potassium chloride. Whoever must restrict either should ask a physician; 20 mg/L of sodium is guidance for people held to 500 mg a day.`,
      source: 'computed from molar masses; US EPA Q&A, citing EPA 822-R-03-006',
    },
    {
      about: 'Drain',
      words:
        'The drain line ends above an air gap: twice its opening, and not below 1 in (25 mm), where the code has nothing else.',
      source: 'N.J. plumbing code, ch. 9 and 10.18',
    },
    {
      about: 'What prevails',
      words:
        'Local codes, licensed practice and what you see on the spot prevail over this sheet: it is an estimate from reports.',
      source: PRACTICE,
    },
  ];
}
