import { type Scale, scaleOf } from '../../../lib/chart/scale.ts';
import { escaped, px } from '../../../lib/chart/svg.ts';

/** Colours that differ in lightness too (Okabe and Ito 2008, "Color Universal Design", from memory), repeated if need be. */
const COLOURS = [
  '#0072b2',
  '#e69f00',
  '#009e73',
  '#d55e00',
  '#56b4e9',
  '#cc79a7',
  '#7a6a00',
  '#999999',
  '#444444',
];

export const WIDTH = 860;
const HEIGHT = 420;
export const PLOT = { left: 76, right: 640, top: 48, bottom: 364 };

export function colourOf(index: number): string {
  return COLOURS[index % COLOURS.length] ?? '#000';
}

/** A picture with a title, as SVG. */
export function picture(title: string, parts: readonly string[], height = HEIGHT): string {
  return [
    `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 ${WIDTH} ${height}" font-family="sans-serif" font-size="12" fill="#222">`,
    `<rect width="${WIDTH}" height="${height}" fill="#fff"/>`,
    `<text x="${PLOT.left}" y="26" font-size="15" font-weight="600">${escaped(title)}</text>`,
    ...parts,
    '</svg>\n',
  ].join('\n');
}

/** A vertical axis with lines across the plot. */
export function vertical(values: readonly number[], name: string): { y: Scale; parts: string[] } {
  const y = scaleOf(values, 0, PLOT.bottom, PLOT.top);
  const digits = Math.max(0, ...y.ticks.slice(1).map((tick) => Math.ceil(-Math.log10(tick) + 0.3)));
  return {
    y,
    parts: [
      ...y.ticks.flatMap((tick) => [
        `<line x1="${PLOT.left}" y1="${px(y.at(tick))}" x2="${PLOT.right}" y2="${px(y.at(tick))}" stroke="#ddd"/>`,
        `<text x="${PLOT.left - 8}" y="${px(y.at(tick) + 4)}" text-anchor="end">${tick.toFixed(digits)}</text>`,
      ]),
      `<text transform="translate(18 ${px((PLOT.top + PLOT.bottom) / 2)}) rotate(-90)" text-anchor="middle">${escaped(name)}</text>`,
    ],
  };
}

/** Names with their colours, beside the plot. */
export function legend(names: readonly string[]): string[] {
  return names.flatMap((name, index) => {
    const y = PLOT.top + 10 + 20 * index;
    return [
      `<rect x="${PLOT.right + 18}" y="${y - 9}" width="12" height="12" fill="${colourOf(index)}"/>`,
      `<text x="${PLOT.right + 36}" y="${y + 1}">${escaped(name)}</text>`,
    ];
  });
}
