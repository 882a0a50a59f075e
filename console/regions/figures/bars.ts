import { type Markish, rectY, text } from '@observablehq/plot';
import type { Draw, Frame } from '../../figures/drawing.ts';
import type { Part, PartOf } from '../shares.ts';
import { margins, monthAxis, valueAxis } from './axes.ts';
import { PART_FILL } from './patterns.ts';
import { type Whisker, whiskers } from './whiskers.ts';

/** One month's bar: parts on top of each other, from the axis up. */
export interface Bar {
  /** Where the month begins and ends, milliseconds as if in UTC. */
  readonly from: number;
  readonly to: number;
  readonly isWhole: boolean;
  readonly parts: readonly PartOf[];
  /** Between which bounds the height lies, where they were worked out. */
  readonly range?: { readonly low: number; readonly high: number };
}

interface Piece extends Omit<Bar, 'parts' | 'range'> {
  readonly y1: number;
  readonly y2: number;
  readonly part: Part;
}

/** Bars by month. `most` fixes the axis where the parts are shares. */
export function bars(all: readonly Bar[], label: string, most?: number): Draw {
  return (frame) => ({
    ...margins(frame),
    height: frame.isNarrow ? 220 : 260,
    x: { type: 'linear', domain: domainOf(all), axis: null },
    y: { domain: [0, most ?? Math.max(1e-9, ...all.map(topOf)) * 1.02], axis: null },
    marks: [
      ...valueAxis(label, frame),
      ...marksOf(all),
      ...whiskers(all.flatMap(whiskerOf)),
      ...notWhole(all, frame),
      axisOf(all, frame),
    ],
  });
}

/** Shares of 1, in percent. */
export function shareBars(all: readonly Bar[]): Draw {
  const percents = all.map((bar) => ({
    ...bar,
    parts: bar.parts.map(({ part, value }) => ({ part, value: value * 100 })),
  }));
  return (frame) => ({ ...bars(percents, '%', 100)(frame), height: frame.isNarrow ? 170 : 180 });
}

export function middleOf({ from, to }: Pick<Bar, 'from' | 'to'>): number {
  return (from + to) / 2;
}

function marksOf(all: readonly Bar[]): Markish[] {
  const pieces = all.flatMap(piecesOf);
  const place = {
    x1: ({ from, to }: Piece) => from + (to - from) * 0.14,
    x2: ({ from, to }: Piece) => to - (to - from) * 0.14,
    y1: 'y1',
    y2: 'y2',
  };
  return (['known', 'inferred', 'estimated', 'missing'] as const).flatMap((part) =>
    [true, false].map((isWhole) =>
      rectY(
        pieces.filter((piece) => piece.part === part && piece.isWhole === isWhole),
        {
          ...place,
          fill: PART_FILL[part],
          fillOpacity: isWhole || part !== 'known' ? 1 : 0.55,
          stroke: part === 'missing' ? 'var(--ink-soft)' : 'var(--accent)',
          strokeWidth: 1,
          ...((part === 'missing' || !isWhole) && { strokeDasharray: '3,2' }),
        },
      ),
    ),
  );
}

/** A word over each bar that is not of a whole month. */
function notWhole(all: readonly Bar[], { isNarrow }: Frame): Markish[] {
  return [
    text(
      all.filter(({ isWhole }) => !isWhole),
      {
        x: middleOf,
        y: topOf,
        text: () => (isNarrow ? '*' : 'in part*'),
        dy: -8,
        fill: 'var(--ink-soft)',
      },
    ),
  ];
}

function axisOf(all: readonly Bar[], frame: Frame): Markish {
  const starts = new Map(all.map((bar) => [middleOf(bar), bar]));
  return monthAxis([...starts.keys()], frame);
}

function piecesOf({ parts, range: _, ...bar }: Bar): Piece[] {
  let top = 0;
  return parts.map(({ part, value }) => {
    const y1 = top;
    top += Math.max(0, value);
    return { ...bar, part, y1, y2: top };
  });
}

function heightOf({ parts }: Bar): number {
  return parts.reduce((sum, { value }) => sum + Math.max(0, value), 0);
}

/** Where the bar or its whisker ends. */
function topOf(bar: Bar): number {
  return Math.max(heightOf(bar), bar.range?.high ?? 0);
}

function whiskerOf(bar: Bar): Whisker[] {
  const { from, to, range } = bar;
  return range ? [{ at: middleOf(bar), reach: (to - from) * 0.13, ...range }] : [];
}

function domainOf(all: readonly Bar[]): [number, number] {
  return [Math.min(...all.map(({ from }) => from)), Math.max(...all.map(({ to }) => to))];
}
