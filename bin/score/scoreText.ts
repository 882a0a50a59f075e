import type { Score } from '../../lib/score/score.ts';
import { table } from '../replay/text.ts';

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
  ].join('\n\n');
}

function faults({ faults: scores }: Score): string {
  const head = ['fault', 'sensed', 'told', 'days, median', '90 %', 'right cause', 'all', 'told of all'];
  const rows = scores.map((each) => [
    each.fault,
    String(each.sensed),
    number(each.recall),
    number(each.medianDelayDays, 0),
    number(each.p90DelayDays, 0),
    number(each.rightCause),
    String(each.all),
    number(each.recallOfAll),
  ]);
  return table([head, ...rows], ['left', ...head.slice(1).map(() => 'right' as const)]);
}

function kinds({ kinds: scores }: Score): string {
  const head = ['alerts', 'raised', 'true', 'false', 'a unit-year', 'a healthy one', 'calibration', 'Brier'];
  const rows = scores.map((each) => [
    each.kind,
    String(each.raised),
    number(each.precision),
    String(each.falseAlarms),
    number(each.falseAUnitYear, 4),
    number(each.falseAHealthyUnitYear, 4),
    number(each.calibrationError),
    number(each.brier),
  ]);
  return table([head, ...rows], ['left', ...head.slice(1).map(() => 'right' as const)]);
}

function number(value: number | null, digits = 3): string {
  return value === null ? '-' : value.toFixed(digits);
}
