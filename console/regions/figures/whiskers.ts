import { type Markish, ruleX, ruleY } from '@observablehq/plot';

/** Between which bounds something lies. */
export interface Whisker {
  /** The middle of its bar, and how far its ends reach to both sides, in the axis's numbers. */
  readonly at: number;
  readonly reach: number;
  readonly low: number;
  readonly high: number;
}

/** A line from bound to bound with a bar at each; on a brim, so that it is seen on any fill. */
export function whiskers(all: readonly Whisker[]): Markish[] {
  const strokes = [
    { stroke: 'var(--panel)', strokeWidth: 4 },
    { stroke: 'var(--ink)', strokeWidth: 1.5 },
  ];
  const across = { x1: ({ at, reach }: Whisker) => at - reach, x2: ({ at, reach }: Whisker) => at + reach };
  return strokes.flatMap((stroke) => [
    ruleX(all, { x: 'at', y1: 'low', y2: 'high', ...stroke }),
    ruleY(all, { y: 'low', ...across, ...stroke }),
    ruleY(all, { y: 'high', ...across, ...stroke }),
  ]);
}
