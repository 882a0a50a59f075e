import { service } from '../api/client.ts';
import { keepFetched, openFetched } from '../api/openFetched.ts';

/** Which report: a region's month; in the form that may go to others, or in the company's own. */
export interface ReportAsked {
  readonly region: string;
  /** `YYYY-MM`. */
  readonly month: string;
  readonly isShared: boolean;
}

/** Opens the report as a PDF. */
export function openReport(asked: ReportAsked): Promise<void> {
  return openFetched(nameOf(asked, 'pdf'), () => fetched(asked, 'pdf'));
}

/** Has the browser keep the report as a page of its own. */
export function keepReport(asked: ReportAsked): Promise<void> {
  return keepFetched(nameOf(asked, 'html'), () => fetched(asked, 'html'));
}

function nameOf({ region, month }: ReportAsked, form: string): string {
  return `${region}-${month}.${form}`;
}

async function fetched(
  { region, month, isShared }: ReportAsked,
  form: 'html' | 'pdf',
): Promise<Blob | undefined> {
  const { data } = await service.GET('/v1/regions/{region}/reports/{file}', {
    params: { path: { region, file: `${month}.${form}` }, query: { shared: isShared ? 'true' : 'false' } },
    parseAs: 'blob',
  });
  return data;
}
