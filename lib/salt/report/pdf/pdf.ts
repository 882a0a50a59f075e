import type { Paper } from '../../../brief/paper.ts';
import { bytesOf, openDocument, SIZES } from '../../../brief/pdf/document.ts';
import { faces } from '../../../brief/pdf/fonts.ts';
import type { Pen } from '../../../brief/pdf/pen.ts';
import { Typesetter } from '../../../brief/pdf/typesetter.ts';
import type { RegionReport } from '../content.ts';
import { columnOf, flow } from './flow.ts';
import { piecesOf } from './pieces.ts';

/** Of a page, and of what stands below its text, points. */
const MARGIN = 46;
const FOOT = { size: 7.4, color: '#46535c' };

/**
 * A report as a PDF, as many pages as it takes. Its fonts are in it, as far as they are used.
 *
 * @param compress whether what is in the file is packed, as it should be but for those who look into it
 */
export async function reportPdf(
  report: RegionReport,
  { paper, compress = true }: { readonly paper: Paper; readonly compress?: boolean },
): Promise<Uint8Array> {
  const fonts = await faces();
  const setter = new Typesetter(fonts);
  const [width, height] = SIZES[paper];
  const sheet = { width, height, margin: MARGIN };
  const page = columnOf(sheet);
  const pieces = piecesOf(report, page);
  const baseline = height - MARGIN / 2;
  const write = (doc: PDFKit.PDFDocument | null, pages: number) =>
    flow(pieces, setter, {
      sheet,
      doc,
      foot: (pen: Pen, number) => {
        pen.label(report.foot, { x: page.x, baseline, anchor: 'start' }, FOOT);
        pen.label(`page ${number} of ${pages}`, { x: page.x + page.width, baseline, anchor: 'end' }, FOOT);
      },
    });
  const pages = write(null, 0);
  const doc = openDocument(fonts, [width, height], `${report.title}: ${report.region}`, compress);
  const bytes = bytesOf(doc);
  write(doc, pages);
  doc.end();
  return bytes;
}
