import { paragraph, table } from '../replay/text.ts';
import { COLUMNS, LEGEND } from './columns.ts';
import { nextText, type Report, scoreOf } from './report.ts';

/** The figures as a table for the terminal. */
export function backtestText(report: Report): string {
  const { families, horizons, homes, warmUpDays, leftOut } = report;
  const head = ['', ...COLUMNS.map((column) => column.head)];
  const blocks = horizons.flatMap((days) => [
    [nextText(days)],
    ...families.flatMap((family) => {
      const score = scoreOf(report, family, days);
      return score ? [[`  ${family}`, ...COLUMNS.map(({ cell }) => cell(score))]] : [];
    }),
  ]);
  const sides = head.map((_, column) => (column === 0 ? 'left' : 'right'));
  const left = leftOut.length > 0 ? `; ${leftOut.length} left out, their records being too short` : '';
  return [
    `Forecasts of the use of ${homes} homes, each from its reported day ${warmUpDays + 1} on${left}`,
    table([head, ...blocks], sides),
    LEGEND.map(([term, meaning]) => paragraph(`${term}: ${meaning}`, 2)).join('\n'),
  ].join('\n\n');
}
