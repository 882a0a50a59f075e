import { service } from '../api/client.ts';
import { keepFetched } from '../api/openFetched.ts';

/** How each file of a company's accounts is asked for. They are fetched, since a plain link would not say who asks. */
const FETCHES = {
  'accounts.csv': () => service.GET('/v1/accounts.csv', { parseAs: 'blob' }),
  'accounts.parquet': () => service.GET('/v1/accounts.parquet', { parseAs: 'blob' }),
  'accounts-shared.csv': () =>
    service.GET('/v1/accounts.csv', { params: { query: { shared: 'true' } }, parseAs: 'blob' }),
  'dictionary.csv': () => service.GET('/v1/accounts/dictionary.csv', { parseAs: 'blob' }),
  'salt.csv': () => service.GET('/v1/salt.csv', { parseAs: 'blob' }),
  'salt.parquet': () => service.GET('/v1/salt.parquet', { parseAs: 'blob' }),
};

export type FileName = keyof typeof FETCHES;

/** Fetches a file and has the browser keep it. */
export async function download(name: FileName): Promise<void> {
  await keepFetched(name, async () => (await FETCHES[name]()).data);
}
