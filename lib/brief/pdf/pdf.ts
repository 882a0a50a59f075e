import type { Brief } from '../briefSchema.ts';
import { drawingOf } from '../chart/drawing.ts';
import { inUnits, type UnitSystem } from '../inUnits.ts';
import type { Paper } from '../paper.ts';
import { sheetOf } from '../sheet.ts';
import { bytesOf, openDocument, SIZES } from './document.ts';
import { faces } from './fonts.ts';
import { layOut } from './layout.ts';
import { Pen } from './pen.ts';
import { Typesetter } from './typesetter.ts';

const MARGIN = 34;
/** Tried from the largest; the last is hard to read, but a long text must not lose its end. */
const SCALES = [1.12, 1.06, 1, 0.95, 0.9, 0.85, 0.8, 0.75, 0.7, 0.65, 0.6];

export interface PdfOptions {
  readonly system: UnitSystem;
  readonly paper: Paper;
  /** Whether what is in the file is packed, as it should be but for those who look into it. */
  readonly compress?: boolean;
}

/**
 * A brief as a PDF of one page, in print as large as it fits. Its fonts are in it, as far as they are used.
 *
 * @throws Error if even the smallest print does not fit: a sheet's texts are shortened, so that is a fault of ours
 */
export async function pdfOf(
  brief: Brief,
  { system, paper, compress = true }: PdfOptions,
): Promise<Uint8Array> {
  const fonts = await faces();
  const setter = new Typesetter(fonts);
  const sheet = sheetOf(brief, system);
  const drawing = drawingOf(brief.chart, inUnits(system));
  const [width, height] = SIZES[paper];
  const page = { x: MARGIN, width: width - 2 * MARGIN };
  const write = (scale: number, doc: PDFKit.PDFDocument | null) => {
    const pen = new Pen(setter, scale, doc);
    pen.y = MARGIN;
    layOut(pen, sheet, drawing, page);
    return pen.y;
  };
  const scale = SCALES.find((each) => write(each, null) <= height - MARGIN);
  if (scale === undefined) throw new Error('a brief does not fit one page: shorten its texts in sheetOf');
  const doc = openDocument(fonts, [width, height], `${sheet.title}: ${sheet.place}`, compress);
  const bytes = bytesOf(doc);
  write(scale, doc);
  doc.end();
  return bytes;
}
