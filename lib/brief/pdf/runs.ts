import bidiFactory from 'bidi-js';
import type { Face } from './fonts.ts';

/** A stretch of a line of one direction and one font. */
export interface Run {
  readonly text: string;
  readonly isRightToLeft: boolean;
  readonly face: Face;
}

const bidi = bidiFactory();

/** Whether a paragraph runs from right to left: by its first strong character (Unicode Standard Annex 9, P2 and P3). */
export function isRightToLeft(paragraph: string): boolean {
  return (bidi.getEmbeddingLevels(paragraph).paragraphs[0]?.level ?? 0) % 2 === 1;
}

/**
 * The runs of one line as they are drawn from left to right. pdfkit by itself gets the order of words, digits and
 * brackets wrong.
 *
 * @param faces asked for a glyph in this order; the first draws what none has
 * @param rightToLeft whether the paragraph that the line belongs to is
 */
export function runsOf(line: string, faces: readonly [Face, ...Face[]], rightToLeft: boolean): Run[] {
  const { levels } = bidi.getEmbeddingLevels(line, rightToLeft ? 'rtl' : 'ltr');
  const mirrored = bidi.getMirroredCharactersMap(line, levels);
  const runs: { text: string; level: number; face: Face }[] = [];
  let index = 0;
  for (const character of line) {
    const level = levels[index] ?? 0;
    const shown = mirrored.get(index) ?? character;
    const last = runs.at(-1);
    const face = faceOf(shown, faces, last?.face);
    if (last && last.level === level && last.face === face) last.text += shown;
    else runs.push({ text: shown, level, face });
    index += character.length;
  }
  return inVisualOrder(runs).map(({ text, level, face }) => ({ text, isRightToLeft: level % 2 === 1, face }));
}

/** Spaces and marks go with what stands before them, as far as its font has them. */
function faceOf(character: string, faces: readonly [Face, ...Face[]], before: Face | undefined): Face {
  const point = character.codePointAt(0) ?? 0;
  const has = ({ font }: Face) => font.hasGlyphForCodePoint(point);
  if (before && /[\s\p{M}]/u.test(character) && has(before)) return before;
  return faces.find(has) ?? faces[0];
}

/** Rule L2 of that annex: from the highest level down to the lowest odd one, each stretch at that level or above is turned. */
function inVisualOrder<Leveled extends { readonly level: number }>(runs: readonly Leveled[]): Leveled[] {
  const order = [...runs];
  const highest = Math.max(0, ...order.map(({ level }) => level));
  for (let level = highest; level >= 1; level--) {
    let from = 0;
    while (from < order.length) {
      let to = from;
      while ((order[to]?.level ?? -1) >= level) to += 1;
      if (to > from) order.splice(from, to - from, ...order.slice(from, to).reverse());
      from = to + 1;
    }
  }
  return order;
}
