import type { Run } from './runs.ts';
import { FEATURES, type Typesetter } from './typesetter.ts';

export interface TextStyle {
  readonly size: number;
  readonly bold?: boolean;
  readonly color?: string;
}

/** Where something may be written: from a place on the left over some width, points. */
export interface Column {
  readonly x: number;
  readonly width: number;
}

/** Distance of lines, and of the first one's baseline from the top, as shares of the size. */
const LEADING = 1.27;
const ASCENT = 0.98;
const INK = '#1b252c';

/**
 * Writes on a page from the top down, all sizes times a scale. Without a document nothing is drawn and only the place is
 * found where it would end.
 */
export class Pen {
  readonly scale: number;
  readonly doc: PDFKit.PDFDocument | null;
  readonly #setter: Typesetter;
  y = 0;

  constructor(setter: Typesetter, scale: number, doc: PDFKit.PDFDocument | null) {
    this.#setter = setter;
    this.scale = scale;
    this.doc = doc;
  }

  skip(points: number): void {
    this.y += points * this.scale;
  }

  /** A paragraph: `lead` is written bold before it, on the same line. What runs from right to left is set to the right. */
  text(text: string, { x, width }: Column, { size, bold = false, color = INK }: TextStyle): void {
    const points = size * this.scale;
    const { lines, isRightToLeft } = this.#setter.linesOf(text, { width, size: points, bold });
    for (const runs of lines) {
      const indent = isRightToLeft ? width - this.#setter.widthOf(runs) * points : 0;
      this.#draw(runs, x + indent, this.y + ASCENT * points, points, color);
      this.y += LEADING * points;
    }
  }

  /** A paragraph whose lines end on the right of a column, as figures do. */
  textToTheRight(text: string, { x, width }: Column, { size, bold = false, color = INK }: TextStyle): void {
    const points = size * this.scale;
    for (const runs of this.#setter.linesOf(text, { width, size: points, bold }).lines) {
      const indent = width - this.#setter.widthOf(runs) * points;
      this.#draw(runs, x + indent, this.y + ASCENT * points, points, color);
      this.y += LEADING * points;
    }
  }

  /** Several texts beside each other, each in its column; the place is then below the longest. */
  row(cells: readonly { readonly text: string; readonly column: Column; readonly style: TextStyle }[]): void {
    const top = this.y;
    let bottom = top;
    for (const { text, column, style } of cells) {
      this.y = top;
      this.text(text, column, style);
      bottom = Math.max(bottom, this.y);
    }
    this.y = bottom;
  }

  /** One line at a place of its own; `anchor` says which part of it stands there. */
  label(
    text: string,
    at: { x: number; baseline: number; anchor: 'start' | 'middle' | 'end' },
    { size, bold = false, color = INK }: TextStyle,
  ): void {
    const runs = this.#setter.lineOf(text, bold);
    const width = this.#setter.widthOf(runs) * size;
    const back = { start: 0, middle: width / 2, end: width }[at.anchor];
    this.#draw(runs, at.x - back, at.baseline, size, color);
  }

  /** A line across a column. */
  rule({ x, width }: Column, color: string, weight: number): void {
    this.doc
      ?.moveTo(x, this.y)
      .lineTo(x + width, this.y)
      .lineWidth(weight)
      .strokeColor(color)
      .stroke();
  }

  #draw(runs: readonly Run[], left: number, baseline: number, size: number, color: string): void {
    const { doc } = this;
    if (!doc) return;
    let x = left;
    for (const run of runs) {
      run.face.direction = run.isRightToLeft ? 'rtl' : 'ltr';
      doc
        .font(run.face.name)
        .fontSize(size)
        .fillColor(color)
        .text(run.text, x, baseline, { lineBreak: false, features: FEATURES, baseline: 'alphabetic' });
      x += this.#setter.widthOf([run]) * size;
    }
  }
}
