import type { WasteCause } from '../../../lib/salt/waste.ts';

/** What mends each cause of wasted salt, beside what it is (lib/salt/wasteWords.ts): a sentence. */
export const MENDS: Readonly<Record<WasteCause, string>> = {
  leak: 'Finding and closing the leak mends it.',
  manual: 'Asking why they do so mends it.',
  'calendar-limit': 'A longer limit mends it, where the water and the maker’s word allow one.',
  repeated: 'A visit to the control mends it.',
  'capacity-too-low': 'Setting the capacity that goes with the dose mends it.',
  'hardness-too-high': 'Testing the raw water and setting its hardness mends it.',
  reserve: 'It is the price of soft water: only a reserve that fits the household better lowers it.',
  dose: 'A smaller dose mends it, with regenerations more often: what-if, below, shows what else that changes.',
};
