import type { Score } from '../../lib/score/score.ts';
import { table } from '../replay/text.ts';
import { number } from './number.ts';
import { sectionsOf } from './sections.ts';

/** A score as people read it. */
export function scoreText(score: Score): string {
  const { units, healthyUnits, unitYears, tooShort, stall, load } = score;
  return [
    `${units} units, ${healthyUnits} of them healthy, over ${unitYears.toFixed(0)} unit-years`,
    faults(score),
    `${tooShort} more faults ended, or the watch did, before there was time to tell them.`,
    kinds(score),
    table(
      [
        ['false alarms a healthy unit-year, all kinds', number(score.falseAHealthyUnitYear)],
        ['right cause named', number(score.rightCause)],
        ['stall: household asked on day, median', number(stall.medianDayAsked, 0)],
        ['stall: needless questions a unit-year', number(stall.needlessQuestionsAUnitYear)],
        ['stall: technician sent by day 21', number(stall.sentByDay21)],
        ['stall: false trips a unit-year', number(stall.falseTripsAUnitYear)],
        ['alarms a day among 2,000 units, mean', number(load.alarmsADay, 1)],
        ['  median day, 95th percentile', `${number(load.medianDay, 0)}, ${number(load.p95Day, 0)}`],
        ['unit-days with more than one alarm', String(load.twiceOnADay)],
        ['raised again within two days', String(load.chattering)],
        [
          'routine, soon, urgent at the worst',
          Object.values(load.shareBySeverity)
            .map((share) => `${Math.round(share * 100)} %`)
            .join(', '),
        ],
      ],
      ['left', 'right'],
    ),
    ...sectionsOf(score).map(({ title, rows }) => `${title}\n${withHead(rows)}`),
  ].join('\n\n');
}

function faults({ faults: scores }: Score): string {
  return withHead([
    ['fault', 'sensed', 'told', 'days, median', '90 %', 'right cause', 'all', 'told of all'],
    ...scores.map(
      ({ fault, sensed, recall, medianDelayDays, p90DelayDays, rightCause, all, recallOfAll }) => [
        fault,
        String(sensed),
        number(recall),
        ...[medianDelayDays, p90DelayDays].map((days) => number(days, 0)),
        number(rightCause),
        String(all),
        number(recallOfAll),
      ],
    ),
  ]);
}

function kinds({ kinds: scores }: Score): string {
  return withHead([
    ['alerts', 'raised', 'true', 'false', 'a unit-year', 'a healthy one', 'calibration', 'Brier'],
    ...scores.map(({ kind, raised, precision, falseAlarms, ...each }) => [
      kind,
      String(raised),
      number(precision),
      String(falseAlarms),
      ...[each.falseAUnitYear, each.falseAHealthyUnitYear].map((rate) => number(rate, 4)),
      ...[each.calibrationError, each.brier].map((error) => number(error)),
    ]),
  ]);
}

/** A table whose first row is its head: names on the left, figures on the right. */
function withHead(rows: readonly (readonly string[])[]): string {
  const [head = []] = rows;
  return table(
    rows,
    head.map((_, column) => (column === 0 ? 'left' : 'right')),
  );
}
