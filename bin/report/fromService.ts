import { problemSchema } from '../enroll/answers.ts';
import { keyIn } from '../enroll/key.ts';
import { CommandError, oneLine } from '../errors.ts';
import { OutputFolder } from '../replay/outputFolder.ts';

/** To add up a large fleet takes a while. */
const ANSWER_WITHIN_MS = 300_000;
const FORMS = ['html', 'pdf', 'csv'] as const;

/** Where a report is to be had, and which. */
export interface ServiceRequest {
  /** Of the service, without `/v1`. */
  readonly service: string;
  readonly keyFile: string;
  readonly region: string;
  readonly month: string;
  readonly out: string;
  readonly query: URLSearchParams;
}

/**
 * Has a running service make the report, and writes its files; returns their names.
 *
 * @throws CommandError `key-refused`, `region-unknown`, `month-missing`, `service-unreachable`, or as keys and folders do
 */
export async function reportFromService(request: ServiceRequest): Promise<string[]> {
  const { region, month, out, service } = request;
  const { key } = await keyIn(request.keyFile);
  const folder = new OutputFolder(out);
  try {
    for (const form of FORMS) {
      folder
        .output(`${region}-${month}.${form}`)
        .addBytes(await fetched(addressOf(form, request), key, service));
    }
    folder.publish();
    return FORMS.map((form) => `${region}-${month}.${form}`);
  } finally {
    folder.discard();
  }
}

/** The accounts as the last report has them, the other two as of now. */
function addressOf(form: (typeof FORMS)[number], { service, region, month, query }: ServiceRequest): string {
  const root = `${service.replace(/\/+$/, '')}/v1`;
  if (form !== 'csv')
    return `${root}/regions/${encodeURIComponent(region)}/reports/${month}.${form}?${query}`;
  const narrowed = new URLSearchParams({ region, month, shared: query.get('shared') ?? 'false' });
  return `${root}/accounts.csv?${narrowed}`;
}

async function fetched(address: string, key: string, service: string): Promise<Uint8Array> {
  const response = await fetch(address, {
    headers: { authorization: `Bearer ${key}` },
    redirect: 'error',
    signal: AbortSignal.timeout(ANSWER_WITHIN_MS),
  }).catch((error: unknown) => {
    const cause = error instanceof Error && error.cause instanceof Error ? error.cause : error;
    throw unreachable(service, cause instanceof Error ? oneLine(cause.message) : String(cause));
  });
  if (response.ok) return new Uint8Array(await response.arrayBuffer());
  const problem = problemSchema.safeParse(await response.json().catch(() => undefined)).data;
  if (!problem) throw unreachable(service, `it answers ${response.status}`);
  const code =
    CODES[problem.type] ??
    (response.status === 401 || response.status === 403 ? 'key-refused' : 'service-unreachable');
  throw new CommandError(code, `${service}: ${problem.title}`, problem.detail);
}

const CODES: Readonly<Record<string, 'region-unknown' | 'month-missing'>> = {
  '/problems/region-unknown': 'region-unknown',
  '/problems/month-unknown': 'month-missing',
};

function unreachable(service: string, why: string): CommandError {
  return new CommandError(
    'service-unreachable',
    `${service}: ${why}`,
    'See that it runs and that --service is its address, without /v1.',
  );
}
