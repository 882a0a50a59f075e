import { compareText } from '../../../../shared/compareText.ts';
import { formatLocalDate } from '../../../../shared/time/localDate.ts';
import { dated } from '../../../brief/dated.ts';
import { Z_OF_80_PERCENT } from '../../../estimate/interval.ts';
import type { Delivery } from '../../deliveries/delivery.ts';
import type { DatedHouse } from '../../deliveries/deliveryPlan.ts';
import { type Section, table, text } from '../content.ts';
import { type Subject, softeners } from '../given.ts';
import { counted, inSteps, stepOf, stepOfSum } from '../rounding.ts';

/** Houses that are listed one by one; the list of deliveries itself has all. */
const MOST_LISTED = 40;

/** Houses that need salt within four weeks of the day that the report is of; nothing where that is not known, or shared. */
export function deliveries({ deliveries: plan, region, isShared, quantities: { mass } }: Subject): Section[] {
  if (!plan || isShared) return [];
  const due = plan.houses.filter((each) => each.region === region);
  const rounds = [...new Set(due.map(({ round }) => round))].sort(
    (a, b) => Number(a === null) - Number(b === null) || compareText(a ?? '', b ?? ''),
  );
  const counts = (some: readonly DatedHouse[]) =>
    plan.weeks.map(({ week }) => counted(some.filter((each) => each.week === week).length));
  const level = ({ levelLb, levelDeviationLb }: Delivery) => {
    const half = Z_OF_80_PERCENT * levelDeviationLb * mass.factor;
    const step = stepOf({ low: -half, high: half }) ?? stepOfSum(levelLb * mass.factor);
    return `${inSteps(Math.max(0, levelLb) * mass.factor, Math.max(1, step))} ${mass.unit}`;
  };
  const blocks =
    due.length === 0
      ? [text('No house needs salt within the next four weeks, as far as is known.')]
      : [
          table({
            caption: 'Houses by the week until which salt should be brought',
            columns: [
              { head: 'Round', share: 0.3 },
              ...plan.weeks.map(({ from, to }) => ({
                head: from === null ? 'late already' : `by ${shortDate(to)}`,
                share: 0.14,
                isNumber: true,
              })),
            ],
            rows: [
              ...rounds.map((round) => [
                round ?? 'no round on record',
                ...counts(due.filter((each) => each.round === round)),
              ]),
              ['All', ...counts(due)],
            ],
            hasTotal: true,
          }),
          table({
            caption: 'The first of them',
            columns: [
              { head: 'Unit', share: 0.3 },
              { head: 'Round', share: 0.2 },
              { head: 'Bring by', share: 0.2 },
              { head: 'In the tank', share: 0.14, isNumber: true },
              { head: 'Room for', share: 0.16, isNumber: true },
            ],
            rows: due
              .slice(0, MOST_LISTED)
              .map((each) => [
                each.unitId,
                each.round ?? '–',
                each.week === 0 ? `${shortDate(each.by)}, late` : shortDate(each.by),
                level(each),
                each.roomLb === null ? 'not known' : `${inSteps(each.roomLb * mass.factor, 1)} ${mass.unit}`,
              ]),
          }),
          ...(due.length > MOST_LISTED
            ? [text(`And ${softeners(due.length - MOST_LISTED)} more: see the list of deliveries.`, 'quiet')]
            : []),
          text('The day is the last on which a delivery still comes in time with 90 %.', 'quiet'),
        ];
  return [{ id: 'deliveries', title: 'Salt to bring in the next four weeks', blocks }];
}

function shortDate(date: number): string {
  return dated(formatLocalDate(date)).slice(0, -5);
}
