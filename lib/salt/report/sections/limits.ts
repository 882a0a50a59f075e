import { CHLORIDE_CRITERIA } from '../../../softening/chloride.ts';
import type { Sourced } from '../../../softening/sourced.ts';
import { type Section, table, text } from '../content.ts';

const FROM_MEMORY: Sourced['basis'] = 'from memory, unverified';

/** Those that were not looked up come last. */
const LEAST_SURE_LAST = CHLORIDE_CRITERIA.toSorted(
  (a, b) => Number(a.basis === FROM_MEMORY) - Number(b.basis === FROM_MEMORY),
);

/** Published limits on chloride, with the caution without which they mislead. */
export function limits(): Section {
  return {
    id: 'limits',
    title: 'Published limits on chloride',
    blocks: [
      text(
        'These limits are for the water body or the tap, not for a drain: no figure of this report is to be held against them without what else flows into that water. Local codes and the water authority prevail.',
        'caution',
      ),
      table({
        caption: 'Published limits on chloride in water',
        columns: [
          { head: 'It protects', share: 0.34 },
          { head: 'mg/L', share: 0.1, isNumber: true },
          { head: 'Mean over', share: 0.14, isNumber: true },
          { head: 'Source, and how it is known', share: 0.42 },
        ],
        rows: LEAST_SURE_LAST.map(({ protects, mgPerL, averagedOverHours, source, basis }) => [
          protects,
          String(mgPerL),
          averagedOverHours === undefined ? 'not given' : `${averagedOverHours} h`,
          `${source} (${basis})`,
        ]),
      }),
    ],
  };
}
