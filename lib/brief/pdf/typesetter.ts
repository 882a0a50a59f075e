import type { Face, Faces } from './fonts.ts';
import { linesOf } from './lines.ts';
import { isRightToLeft, type Run, runsOf } from './runs.ts';

/** Such as kerning and ligatures; named, they have pdfkit lay out a run as a whole and not word by word. */
export const FEATURES: PDFKit.Mixins.OpenTypeFeatures[] = ['kern', 'liga'];

/** A text that is broken into lines, each of runs from left to right. */
export interface Lines {
  readonly isRightToLeft: boolean;
  readonly lines: readonly (readonly Run[])[];
}

/** Measures texts and breaks them into lines; what it has measured it remembers. */
export class Typesetter {
  readonly #faces: Faces;
  readonly #widths = new Map<string, number>();
  readonly #words = new Map<string, number>();

  constructor(faces: Faces) {
    this.#faces = faces;
  }

  /** A text of one paragraph in lines of at most some width, points, at a size. */
  linesOf(text: string, { width, size, bold }: { width: number; size: number; bold: boolean }): Lines {
    const rightToLeft = isRightToLeft(text);
    const runs = (line: string) => runsOf(line, this.#facesOf(bold), rightToLeft);
    const widthOf = (word: string) => this.#wordWidth(word, bold) * size;
    return { isRightToLeft: rightToLeft, lines: linesOf(text, width, widthOf).map(runs) };
  }

  /** The width of runs at a size of 1. */
  widthOf(runs: readonly Run[]): number {
    return runs.reduce((sum, run) => sum + this.#runWidth(run), 0);
  }

  /** One line whatever its width. */
  lineOf(text: string, bold: boolean): Run[] {
    return runsOf(text, this.#facesOf(bold), isRightToLeft(text));
  }

  #wordWidth(word: string, bold: boolean): number {
    const key = `${bold} ${word}`;
    const known = this.#words.get(key);
    if (known !== undefined) return known;
    const width = this.widthOf(this.lineOf(word, bold));
    this.#words.set(key, width);
    return width;
  }

  #runWidth({ text, face, isRightToLeft }: Run): number {
    const key = `${face.name} ${isRightToLeft} ${text}`;
    const known = this.#widths.get(key);
    if (known !== undefined) return known;
    face.direction = isRightToLeft ? 'rtl' : 'ltr';
    const width = face.font.layout(text, FEATURES).advanceWidth / face.font.unitsPerEm;
    this.#widths.set(key, width);
    return width;
  }

  #facesOf(bold: boolean): readonly [Face, ...Face[]] {
    const [first, ...others] = bold ? this.#faces.bold : this.#faces.regular;
    if (!first) throw new Error('no font is built in: build the program anew');
    return [first, ...others];
  }
}
