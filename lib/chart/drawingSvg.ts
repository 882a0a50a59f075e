import type { Drawing, Mark } from './drawing.ts';
import { TEXT_SIZE, TRIANGLE } from './look.ts';
import { escaped, px } from './svg.ts';

/** What a form of a picture in a page adds: its own id within the page, and how marks and words look. */
export interface SvgForm<Style extends string> {
  readonly id: string;
  /** Attributes of the picture as a whole, such as the colour of words; with a space before. */
  readonly root: string;
  /** Attributes of a mark, each with a space before. */
  paint(style: Style, kind: 'area' | 'line'): string;
}

/** A drawing as SVG to stand in a page. */
export function drawingSvg<Style extends string>(
  { width, height, title, description, marks }: Drawing<Style>,
  form: SvgForm<Style>,
): string {
  const { id, root } = form;
  return `<svg viewBox="0 0 ${width} ${height}" role="img" aria-labelledby="${id}-title ${id}-desc" font-size="${TEXT_SIZE}"${root}>
<title id="${id}-title">${escaped(title)}</title>
<desc id="${id}-desc">${escaped(description)}</desc>
${marks.map((mark) => elementOf(mark, form)).join('\n')}
</svg>`;
}

function elementOf<Style extends string>(mark: Mark<Style>, { paint }: SvgForm<Style>): string {
  switch (mark.kind) {
    case 'rect': {
      const { x, y, width, height, style } = mark;
      return `<rect x="${px(x)}" y="${px(y)}" width="${px(width)}" height="${px(height)}"${paint(style, 'area')}/>`;
    }
    case 'path':
      return `<polyline points="${mark.points.map(([x, y]) => `${px(x)},${px(y)}`).join(' ')}"${paint(mark.style, 'line')} stroke-linecap="${mark.points.length > 1 ? 'butt' : 'square'}"/>`;
    case 'triangle': {
      const { x, y } = mark;
      const base = px(y + TRIANGLE.height);
      return `<polygon points="${px(x)},${px(y)} ${px(x + TRIANGLE.half)},${base} ${px(x - TRIANGLE.half)},${base}"${paint(mark.style, 'area')}/>`;
    }
    case 'text':
      return `<text x="${px(mark.x)}" y="${px(mark.y)}" text-anchor="${mark.anchor}"${mark.bold ? ' font-weight="bold"' : ''}>${escaped(mark.text)}</text>`;
  }
}
