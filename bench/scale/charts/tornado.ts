import { escaped, px } from '../../../lib/chart/svg.ts';
import type { Change } from '../sensitivity.ts';
import { PLOT, picture, WIDTH } from './frame.ts';

const ROW = 26;
const NAMES = 300;

/** What each assumption moves the bill by, the greatest first; per cent of the total. */
export function tornado(title: string, changes: readonly Change[]): string {
  const most = Math.max(1, ...changes.flatMap(({ less, more }) => [Math.abs(less), Math.abs(more)]));
  const left = NAMES + 40;
  const right = WIDTH - 60;
  const reach = Math.max(1, ...changes.map(({ less, more }) => Math.max(less, more)));
  const fall = Math.max(1, ...changes.map(({ less, more }) => -Math.min(0, less, more)));
  const zero = left + ((right - left) * fall) / (reach + fall);
  const x = (value: number) => zero + ((right - left) * value) / (reach + fall);
  const bars = changes.flatMap(({ name, less, more }, row) => {
    const y = PLOT.top + 10 + row * ROW;
    const bar = (value: number, colour: string) => {
      const [from, to] = [Math.min(zero, x(value)), Math.max(zero, x(value))];
      const beyond = value < 0 ? `x="${px(from - 4)}" text-anchor="end"` : `x="${px(to + 4)}"`;
      return value === 0
        ? []
        : [
            `<rect x="${px(from)}" y="${y}" width="${px(Math.max(1, to - from))}" height="${ROW - 10}" fill="${colour}"/>`,
            `<text ${beyond} y="${y + 12}" font-size="11">${value > 0 ? '+' : ''}${value.toFixed(Math.abs(value) < 10 ? 1 : 0)} %</text>`,
          ];
    };
    return [
      `<text x="${NAMES}" y="${y + 12}" text-anchor="end">${escaped(name)}</text>`,
      ...bar(less, '#0072b2'),
      ...bar(more, '#d55e00'),
    ];
  });
  const bottom = PLOT.top + 10 + changes.length * ROW;
  return picture(
    title,
    [
      ...bars,
      `<line x1="${px(zero)}" y1="${PLOT.top}" x2="${px(zero)}" y2="${bottom}" stroke="#555"/>`,
      `<!-- ${most.toFixed(1)} % at most -->`,
    ],
    bottom + 20,
  );
}
