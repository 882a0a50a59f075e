import { keysOf } from '../../../../shared/records.ts';
import { PARTS_CAUTION, shareTold } from '../../rounding.ts';
import { WASTE_WORDS } from '../../wasteWords.ts';
import { type Section, table, text } from '../content.ts';
import { wasteChart } from '../drawings/wasteChart.ts';
import { type Subject, WITHHELD } from '../given.ts';
import { partOf } from '../quantity.ts';

/** Salt that the water would not have needed, by what it was spent on. */
export function wasted({ account, hides, quantities: { mass } }: Subject): Section {
  const causes = keysOf(WASTE_WORDS)
    .map((cause) => ({
      name: WASTE_WORDS[cause].title,
      meaning: WASTE_WORDS[cause].about,
      lb: account.wastedLb[cause],
      isTold: !hides(`wasted-${cause}`),
    }))
    // Their order would tell of those that are withheld.
    .sort((a, b) => Number(b.isTold) - Number(a.isTold) || (a.isTold ? b.lb - a.lb : 0));
  const told = causes.filter(({ isTold }) => isTold);
  const all = causes.reduce((sum, { lb }) => sum + lb, 0);
  const share = (lb: number) => (account.saltLb.value > 0 ? shareTold(lb / account.saltLb.value) : '–');
  const cells = (lb: number, isTold: boolean) =>
    isTold ? [partOf(lb, mass), share(lb)] : [WITHHELD, WITHHELD];
  return {
    id: 'wasted',
    title: 'Salt that the water would not have needed',
    blocks: [
      {
        kind: 'drawing',
        id: 'wasted',
        drawing: wasteChart(
          told.map(({ name, lb }) => ({ name, lb, told: partOf(lb, mass) })),
          mass,
        ),
      },
      table({
        caption: 'Salt that was not needed, by cause',
        columns: [
          { head: 'Cause', share: 0.22 },
          { head: 'What it means', share: 0.48 },
          { head: 'Salt', share: 0.16, isNumber: true },
          { head: 'Of all salt used', share: 0.14, isNumber: true },
        ],
        rows: [
          ...causes.map(({ name, meaning, lb, isTold }) => [name, meaning, ...cells(lb, isTold)]),
          // Beside the others it would tell of one that is withheld.
          ['All causes', '', ...cells(all, told.length === causes.length)],
        ],
        hasTotal: true,
      }),
      text(
        `${PARTS_CAUTION} Each pound is booked under one cause at the most, at regenerations that were reported; no interval is worked out for these. What must come of it differs: a reserve is the price of soft water, while settings, leaks and faults can be put right.`,
        'quiet',
      ),
    ],
  };
}
