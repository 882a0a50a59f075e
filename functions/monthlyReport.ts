import type { ArchiveFiles } from '../lib/archive/files.ts';
import type { Paper } from '../lib/brief/paper.ts';
import { METHOD } from '../lib/salt/account/method.ts';
import type { ReportGiven } from '../lib/salt/report/given.ts';
import { reportFiles } from '../lib/salt/report/reportFiles.ts';

/** What a report is made of, but for how the figures are worked out, which is the same for all. */
export interface MonthlyReport extends Omit<ReportGiven, 'method'> {
  readonly companyId: string;
  readonly paper: Paper;
}

/**
 * Writes the report of a region's month beside the other reports of its company, as HTML and PDF; what was there before is
 * replaced. Returns the paths.
 *
 * @throws RangeError if there is no account of the region and month
 */
export async function monthlyReport(
  files: Pick<ArchiveFiles, 'put'>,
  { companyId, paper, ...given }: MonthlyReport,
): Promise<readonly string[]> {
  const { html, pdf } = await reportFiles({ ...given, method: METHOD }, paper);
  const path = `reports/${companyId}/regions/${given.region}/${given.month}`;
  await files.put(`${path}.html`, html);
  await files.put(`${path}.pdf`, pdf);
  return [`${path}.html`, `${path}.pdf`];
}
