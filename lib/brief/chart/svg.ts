import { escaped, px } from '../../chart/svg.ts';
import type { Drawing, Mark } from './drawing.ts';
import { INK, LOOKS, type Look, TEXT_SIZE, TRIANGLE } from './look.ts';

/** A drawing as SVG to stand in a page. */
export function svgOf({ width, height, title, description, marks }: Drawing): string {
  return `<svg viewBox="0 0 ${width} ${height}" role="img" aria-labelledby="chart-title chart-desc" font-size="${TEXT_SIZE}" fill="${INK}">
<title id="chart-title">${escaped(title)}</title>
<desc id="chart-desc">${escaped(description)}</desc>
${marks.map(elementOf).join('\n')}
</svg>`;
}

function elementOf(mark: Mark): string {
  switch (mark.kind) {
    case 'rect': {
      const { x, y, width, height, style } = mark;
      return `<rect x="${px(x)}" y="${px(y)}" width="${px(width)}" height="${px(height)}"${looks(LOOKS[style])}/>`;
    }
    case 'path':
      return `<polyline points="${mark.points.map(([x, y]) => `${px(x)},${px(y)}`).join(' ')}"${looks({ fill: 'none', ...LOOKS[mark.style] })} stroke-linecap="${mark.points.length > 1 ? 'butt' : 'square'}"/>`;
    case 'triangle': {
      const { x, y } = mark;
      const base = px(y + TRIANGLE.height);
      return `<polygon points="${px(x)},${px(y)} ${px(x + TRIANGLE.half)},${base} ${px(x - TRIANGLE.half)},${base}"${looks(LOOKS[mark.style])}/>`;
    }
    case 'text':
      return `<text x="${px(mark.x)}" y="${px(mark.y)}" text-anchor="${mark.anchor}"${mark.bold ? ' font-weight="bold"' : ''}>${escaped(mark.text)}</text>`;
  }
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
