import { counted, PARTS_CAUTION, shareTold } from '../../rounding.ts';
import { type Section, table, text } from '../content.ts';
import { type Subject, WITHHELD } from '../given.ts';

/** What the figures rest on. */
export function quality({ account, hides }: Subject): Section {
  const { units, unitsReporting, unitsMeasured, daysExpected, daysCounted, daysImputed } = account;
  const neither = Math.max(0, daysExpected - daysCounted - daysImputed);
  const ofDays = (some: number) => (daysExpected > 0 ? shareTold(some / daysExpected) : '–');
  const ofUnits = (some: number) => (units > 0 ? shareTold(some / units) : '–');
  return {
    id: 'quality',
    title: 'What it rests on',
    blocks: [
      table({
        caption: 'Softeners, days and regenerations',
        columns: [
          { head: 'What', share: 0.64 },
          { head: 'Number', share: 0.2, isNumber: true },
          { head: 'Share', share: 0.16, isNumber: true },
        ],
        rows: [
          ['Softeners watched', counted(units), ''],
          ['of which at least one day was reported', counted(unitsReporting), ofUnits(unitsReporting)],
          ...(hides('measured')
            ? [['of which a level sensor measured salt', WITHHELD, '']]
            : [['of which a level sensor measured salt', counted(unitsMeasured), ofUnits(unitsMeasured)]]),
          ['Days owed, of all softeners together', counted(daysExpected), ''],
          ['Days reported', counted(daysCounted), ofDays(daysCounted)],
          ['Days not reported, and estimated', counted(daysImputed), ofDays(daysImputed)],
          ['Days not reported, and not estimated', counted(neither), ofDays(neither)],
          ['Regenerations reported', counted(account.regenerations), ''],
          [
            'Regenerations estimated on days without a report',
            hides('imputed') ? WITHHELD : counted(account.regenerationsImputed),
            '',
          ],
        ],
      }),
      text(
        `A softener owes a report of every day from its first one on. Nothing stands for days that are neither reported nor estimated: those after a year of silence, and those of a meter whose past tells too little. ${PARTS_CAUTION}`,
        'quiet',
      ),
    ],
  };
}
