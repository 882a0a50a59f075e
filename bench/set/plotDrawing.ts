import type { Drawing, Mark } from '../../lib/chart/drawing.ts';
import type { Line, Plot } from '../comparisons/comparison.ts';
import { linearAxis, logarithmicAxis } from './axis.ts';
import { SERIES, type Style } from './style.ts';
import { figure } from './words.ts';

const WIDTH = 720;
const LEFT = 64;
const RIGHT = WIDTH - 24;
const PLOT_HEIGHT = 240;
const LEGEND_ROW = 18;
/** A sample of a line in the legend, and a mark at a point. */
const SAMPLE = 26;
const MARK = 5;

/**
 * A plot as a picture: its lines with their points and spreads, and above it what each line is. On logarithmic axes what
 * is not above 0 has no place and is left out.
 */
export function plotDrawing(plot: Plot): Drawing<Style> {
  const { title, x, y, logarithmic } = plot;
  const lines = logarithmic ? plot.lines.map(aboveZero) : plot.lines;
  const points = lines.flatMap((line) => line.points);
  const top = lines.length * LEGEND_ROW + 26;
  const bottom = top + PLOT_HEIGHT;
  const axis = logarithmic ? logarithmicAxis : linearAxis;
  const across = axis(
    points.map((point) => point.x),
    LEFT,
    RIGHT,
  );
  const up = axis(
    points.flatMap(({ y, low = y, high = y }) => [y, low, high]),
    bottom,
    top,
  );
  return {
    ...{ width: WIDTH, height: bottom + 40, title },
    description: `${y} against ${x}. ${lines.map(inWords).join(' ')}`,
    marks: [
      ...lines.flatMap(({ name }, index) => sample(name, index)),
      words(LEFT, top - 10, y, 'start'),
      ...up.ticks.flatMap((tick) => [
        path(tick === up.ticks[0] ? 'axis' : 'grid', [LEFT, up.at(tick)], [RIGHT, up.at(tick)]),
        words(LEFT - 6, up.at(tick) + 3.5, figure(tick), 'end'),
      ]),
      ...across.ticks.map((tick) => words(across.at(tick), bottom + 15, figure(tick), 'middle')),
      words(RIGHT, bottom + 32, x, 'end'),
      ...lines.flatMap((line, index) => drawn(line, index, across.at, up.at)),
    ],
  };
}

function drawn(
  { points }: Line,
  index: number,
  across: (value: number) => number,
  up: (value: number) => number,
): Mark<Style>[] {
  return [
    ...points.flatMap(({ x, low, high }) =>
      low === undefined || high === undefined
        ? []
        : [path('whisker', [across(x), up(low)], [across(x), up(high)])],
    ),
    path(styleOf(index), ...points.map(({ x, y }): [number, number] => [across(x), up(y)])),
    ...points.map(({ x, y }) => mark(styleOf(index), across(x), up(y))),
  ];
}

function sample(name: string, index: number): Mark<Style>[] {
  const y = index * LEGEND_ROW + 10;
  return [
    path(styleOf(index), [LEFT, y], [LEFT + SAMPLE, y]),
    mark(styleOf(index), LEFT + SAMPLE / 2, y),
    words(LEFT + SAMPLE + 8, y + 3.5, name, 'start'),
  ];
}

function aboveZero({ name, points }: Line): Line {
  return { name, points: points.filter(({ x, y, low = y }) => x > 0 && y > 0 && low > 0) };
}

function inWords({ name, points }: Line): string {
  return `${name}: ${points.map(({ x, y }) => `${figure(y)} at ${figure(x)}`).join(', ')}.`;
}

function styleOf(index: number): Style {
  return SERIES[index % SERIES.length] ?? 'first';
}

function mark(style: Style, x: number, y: number): Mark<Style> {
  return { kind: 'rect', style, x: x - MARK / 2, y: y - MARK / 2, width: MARK, height: MARK };
}

function path(style: Style, ...points: readonly (readonly [number, number])[]): Mark<Style> {
  return { kind: 'path', style, points };
}

function words(x: number, y: number, text: string, anchor: 'start' | 'middle' | 'end'): Mark<Style> {
  return { kind: 'text', x, y, text, anchor, bold: false };
}
