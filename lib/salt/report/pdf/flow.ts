import { type Column, Pen } from '../../../brief/pdf/pen.ts';
import type { Typesetter } from '../../../brief/pdf/typesetter.ts';

/** Something that stands on one page as a whole. */
export interface Piece {
  write(pen: Pen): void;
  /** Whether it must not be the last on its page. */
  readonly leads?: boolean;
  /** What is written again above it if it comes to be the first on its page. */
  readonly again?: ((pen: Pen) => void) | undefined;
}

/** A page's size and margins, points. */
export interface Sheet {
  readonly width: number;
  readonly height: number;
  readonly margin: number;
}

/** The column that pages are written in. */
export function columnOf({ width, margin }: Sheet): Column {
  return { x: margin, width: width - 2 * margin };
}

/**
 * Writes pieces from page to page and returns how many pages they take. Without a document nothing is drawn.
 *
 * @param foot writes below the pages; the page's number is from 1
 */
export function flow(
  pieces: readonly Piece[],
  setter: Typesetter,
  {
    sheet,
    doc,
    foot,
  }: { sheet: Sheet; doc: PDFKit.PDFDocument | null; foot: (pen: Pen, page: number) => void },
): number {
  const heights = pieces.map((piece) => heightOf(piece, setter));
  const bottom = sheet.height - sheet.margin;
  const pen = new Pen(setter, 1, doc);
  pen.y = sheet.margin;
  let page = 1;
  foot(pen, page);
  pieces.forEach((piece, index) => {
    // With all that it leads to, up to the first that leads to nothing.
    let needed = heights[index] ?? 0;
    for (let next = index; pieces[next]?.leads && next + 1 < pieces.length; next += 1)
      needed += heights[next + 1] ?? 0;
    const isTop = pen.y === sheet.margin;
    if (!isTop && pen.y + needed > bottom) {
      doc?.addPage();
      page += 1;
      foot(pen, page);
      pen.y = sheet.margin;
      piece.again?.(pen);
    }
    piece.write(pen);
  });
  return page;
}

function heightOf(piece: Piece, setter: Typesetter): number {
  const pen = new Pen(setter, 1, null);
  piece.write(pen);
  return pen.y;
}
