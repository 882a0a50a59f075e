import { dot, line, type Markish } from '@observablehq/plot';
import type { Draw } from '../../figures/drawing.ts';
import { margins, monthAxis, valueAxis } from './axes.ts';
import { lineLook } from './lineLooks.ts';

export interface Point {
  /** Milliseconds as if in UTC. */
  readonly at: number;
  /** Null where nothing is known: the line breaks. */
  readonly value: number | null;
  /** The value to the digits that are told. */
  readonly words: string;
  readonly isWhole: boolean;
}

export interface Series {
  readonly name: string;
  readonly points: readonly Point[];
}

/** Several lines over months, each with marks and dashes of its own; a mark of a month that is not whole is empty. */
export function lines(series: readonly Series[], label: string, withYear: boolean): Draw {
  const all = series.flatMap(({ points }) => points);
  const months = [...new Set(all.map(({ at }) => at))].sort((a, b) => a - b);
  const most = Math.max(1e-9, ...all.map(({ value }) => value ?? 0));
  const beside = months.length > 1 ? ((months.at(-1) ?? 0) - (months[0] ?? 0)) * 0.03 : 1e9;
  return (frame) => ({
    ...margins(frame),
    height: frame.isNarrow ? 240 : 300,
    x: { type: 'linear', domain: [(months[0] ?? 0) - beside, (months.at(-1) ?? 0) + beside], axis: null },
    y: { domain: [0, most * 1.05], axis: null },
    marks: [
      ...valueAxis(label, frame),
      monthAxis(months, frame, withYear),
      ...series.flatMap(({ points }, index) => marksOf(points, index)),
    ],
  });
}

function marksOf(points: readonly Point[], index: number): Markish[] {
  const { stroke, symbol, dashes } = lineLook(index);
  const value = ({ value: told }: Point) => told ?? Number.NaN;
  return [
    line(withGaps(points), { x: 'at', y: value, stroke, strokeWidth: 2, strokeDasharray: dashes }),
    dot(points, {
      x: 'at',
      y: value,
      symbol,
      r: 4.5,
      stroke,
      strokeWidth: 1.75,
      fill: ({ isWhole }: Point) => (isWhole ? stroke : 'var(--panel)'),
    }),
  ];
}

/** No two months that follow each other begin further apart, milliseconds. */
const A_MONTH_MS = 32 * 86_400_000;

/** Breaks the line where months lie between two points. */
function withGaps(points: readonly Point[]): readonly Point[] {
  return points.flatMap((point, index) => {
    const before = points[index - 1];
    const isApart = before !== undefined && point.at - before.at > A_MONTH_MS;
    return isApart
      ? [{ at: before.at + A_MONTH_MS, value: null, words: '–', isWhole: false }, point]
      : [point];
  });
}
