import type { Paper } from '../../brief/paper.ts';
import type { ReportGiven } from './given.ts';
import { reportHtml } from './html.ts';
import { regionReport } from './regionReport.ts';

/** A report as files. */
export interface ReportFiles {
  readonly html: string;
  readonly pdf: Uint8Array;
}

/**
 * Both forms of a region's month. The PDF's library and fonts are loaded here and not before.
 *
 * @throws RangeError if there is no account of the region and month
 */
export async function reportFiles(given: ReportGiven, paper: Paper): Promise<ReportFiles> {
  const report = regionReport(given);
  const { reportPdf } = await import('./pdf/pdf.ts');
  return { html: reportHtml(report), pdf: await reportPdf(report, { paper }) };
}
