import PDFDocument from 'pdfkit';
import type { Brief } from '../briefSchema.ts';
import { drawingOf } from '../chart/drawing.ts';
import { inUnits, type UnitSystem } from '../inUnits.ts';
import type { Paper } from '../paper.ts';
import { sheetOf } from '../sheet.ts';
import { type Faces, faces } from './fonts.ts';
import { layOut } from './layout.ts';
import { Pen } from './pen.ts';
import { Typesetter } from './typesetter.ts';

/** Width and height in points: ISO 216 A4 and US Letter. */
const SIZES: Readonly<Record<Paper, readonly [number, number]>> = {
  a4: [595.28, 841.89],
  letter: [612, 792],
};
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
  const doc = open(fonts, [width, height], `${sheet.title}: ${sheet.place}`, compress);
  const bytes = bytesOf(doc);
  write(scale, doc);
  doc.end();
  return bytes;
}

function open(
  fonts: Faces,
  size: readonly [number, number],
  title: string,
  compress: boolean,
): PDFKit.PDFDocument {
  const doc = new PDFDocument({
    size: [...size],
    // Everything is put in its place; a margin would have pdfkit begin another page.
    margin: 0,
    // None yet: else one of its own is looked for in a file.
    font: '',
    lang: 'en',
    displayTitle: true,
    info: { Title: title, Creator: 'Brinebell', Producer: 'Brinebell' },
    compress,
  });
  for (const { name, font } of fonts.bold) doc.registerFont(name, font);
  return doc;
}

function bytesOf(doc: PDFKit.PDFDocument): Promise<Uint8Array> {
  return new Promise((resolve, reject) => {
    const chunks: Uint8Array[] = [];
    doc.on('data', (chunk: Uint8Array) => chunks.push(chunk));
    doc.on('error', reject);
    doc.on('end', () => {
      const bytes = new Uint8Array(chunks.reduce((sum, { length }) => sum + length, 0));
      let at = 0;
      for (const chunk of chunks) {
        bytes.set(chunk, at);
        at += chunk.length;
      }
      resolve(bytes);
    });
  });
}
