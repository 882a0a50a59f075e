import type { Drawing, Mark } from '../../../chart/drawing.ts';
import { scaleOf } from '../../../chart/scale.ts';
import type { Style } from '../content.ts';
import type { Quantity } from '../quantity.ts';
import { label, line, WIDTH } from './parts.ts';

const LEFT = 226;
const RIGHT = WIDTH - 84;
const ROW = 21;
const BAR = 12;

/** Salt that was not needed, a bar for each cause; `told` is how the figure is written. */
export function wasteChart(
  causes: readonly { readonly name: string; readonly lb: number; readonly told: string }[],
  mass: Quantity,
): Drawing<Style> {
  const scale = scaleOf(
    causes.map(({ lb }) => lb * mass.factor),
    0,
    LEFT,
    RIGHT,
  );
  const marks = causes.flatMap(({ name, lb, told }, index): Mark<Style>[] => {
    const y = index * ROW + 4;
    const width = scale.at(Math.max(0, lb * mass.factor)) - LEFT;
    return [
      label(LEFT - 8, y + BAR - 2, name, { anchor: 'end' }),
      ...(width > 0
        ? [{ kind: 'rect' as const, style: 'wasted' as const, x: LEFT, y, width, height: BAR }]
        : []),
      label(LEFT + width + 6, y + BAR - 2, told),
    ];
  });
  const height = causes.length * ROW + 4;
  return {
    ...{ width: WIDTH, height },
    title: 'Salt that was not needed, by cause',
    description: `${causes.map(({ name, told }) => `${name}: ${told}`).join('; ')}.`,
    marks: [line('axis', [LEFT, 0], [LEFT, height - 2]), ...marks],
  };
}
