import { drawingSvg } from '../../chart/drawingSvg.ts';
import { INK, type Look } from '../../chart/look.ts';
import type { Drawing } from './drawing.ts';
import { LOOKS } from './look.ts';

/** A drawing as SVG to stand in a page. */
export function svgOf(drawing: Drawing): string {
  return drawingSvg(drawing, {
    id: 'chart',
    root: ` fill="${INK}"`,
    paint: (style, kind) => looks(kind === 'line' ? { fill: 'none', ...LOOKS[style] } : LOOKS[style]),
  });
}

function looks({ fill, stroke, width, dash }: Look): string {
  return [
    ['fill', fill],
    ['stroke', stroke],
    ['stroke-width', width],
    ['stroke-dasharray', dash?.join(' ')],
  ]
    .map(([name, value]) => (value === undefined ? '' : ` ${name}="${value}"`))
    .join('');
}
