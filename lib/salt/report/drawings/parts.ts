import type { Mark } from '../../../chart/drawing.ts';
import type { scaleOf } from '../../../chart/scale.ts';
import type { Style } from '../content.ts';

/** Of all charts of the report, in units of the picture. */
export const WIDTH = 720;

/** How salt is known, in the order in which it is drawn. */
export const KNOWN = ['measured', 'inferred', 'imputed'] as const;

/** What each way is called beside a sample of its mark. */
export const KNOWN_WORDS = {
  measured: 'by level sensors',
  inferred: 'by dose',
  imputed: 'estimated',
} as const;

export function label(
  x: number,
  y: number,
  words: string,
  { anchor = 'start', bold = false }: { anchor?: 'start' | 'middle' | 'end'; bold?: boolean } = {},
): Mark<Style> {
  return { kind: 'text', x, y, text: words, anchor, bold };
}

export function line(style: Style, ...points: readonly (readonly [number, number])[]): Mark<Style> {
  return { kind: 'path', style, points };
}

/** Lines across a chart at the ticks of an axis, with what they stand for to the left of them. */
export function rows(scale: ReturnType<typeof scaleOf>, left: number, right: number): Mark<Style>[] {
  return scale.ticks.flatMap((tick, index) => {
    const y = scale.at(tick);
    return [
      line(index === 0 ? 'axis' : 'grid', [left, y], [right, y]),
      label(left - 6, y + 3.5, tick.toLocaleString('en-US'), { anchor: 'end' }),
    ];
  });
}
