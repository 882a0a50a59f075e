import { convert, count, percent, unitOf } from '../show/amounts.ts';
import { day, moment } from '../show/dates.ts';
import type { Likings } from '../show/Likings.tsx';
import { KIND_WORDS, SEVERITY_WORDS } from '../show/words.ts';
import type { Timeline } from '../unit/timeline.ts';
import type { FigureTable } from './drawing.ts';
import { SALT_SAID_WORDS, saltSaid } from './saltSaid.ts';

/** The latest first, in all of them. */
export function dailyUseTable({ days, today }: Timeline, likings: Likings): FigureTable {
  return {
    columns: ['Day', `Use, ${unitOf('gallons', likings)}`, 'Hard water'],
    rows: days
      .filter(({ isAhead }) => !isAhead)
      .toReversed()
      .map(({ date, report }) => [
        day(date, likings.locale, today),
        report ? gallons(report.gallons, likings) : 'no report',
        report?.isHard ? 'yes' : '',
      ]),
  };
}

export function bedTable({ days, today }: Timeline, likings: Likings): FigureTable {
  const unit = unitOf('gallons', likings);
  return {
    columns: ['Day', `Truly left, ${unit}`, `Control believes, ${unit}`, `Expected, ${unit}`],
    rows: days
      .toReversed()
      .map(({ date, report, expected, isMissing }) => [
        day(date, likings.locale, today),
        report ? gallons(report.remainingGallons, likings) : isMissing ? 'no report' : '',
        gallons(report?.believedGallons, likings),
        expected
          ? `${gallons(expected.p50, likings)} (${gallons(expected.p10, likings)} to ${gallons(expected.p90, likings)})`
          : '',
      ]),
  };
}

export function saltTable({ story }: Timeline, likings: Likings): FigureTable {
  const { regenerations, unit } = story;
  return {
    columns: ['Regeneration', `Salt, ${unitOf('lb', likings)}`, 'Known by', 'Whether it drew'],
    rows: regenerations
      .toReversed()
      .map((each) => [
        moment(each.at, { locale: likings.locale, timeZone: unit.timeZone }),
        count(convert(each.measuredLb ?? each.expectedLb, 'lb', likings), likings),
        each.measuredLb === null ? 'inferred' : 'measured',
        `${SALT_SAID_WORDS[saltSaid(each)]} (${percent(each.drewSalt, likings)})`,
      ]),
  };
}

export function episodeTable({ story }: Timeline, likings: Likings): FigureTable {
  const { alerts, unit } = story;
  const when = (instant: string) => moment(instant, { locale: likings.locale, timeZone: unit.timeZone });
  return {
    columns: ['Raised', 'Cleared', 'Alert', 'Severity', 'How sure'],
    rows: alerts
      .toSorted((a, b) => Date.parse(b.raisedAt) - Date.parse(a.raisedAt))
      .map(({ raisedAt, clearedAt, kind, severity, probability, history }) => [
        when(raisedAt),
        clearedAt === null ? 'open' : when(clearedAt),
        KIND_WORDS[kind],
        SEVERITY_WORDS[severity],
        // As the card of the alert has it: the last that was noted.
        percent(history.at(-1)?.probability ?? probability, likings),
      ]),
  };
}

function gallons(value: number | null | undefined, likings: Likings): string {
  return value === null || value === undefined ? '' : count(convert(value, 'gallons', likings), likings);
}
