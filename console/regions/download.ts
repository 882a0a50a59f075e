import { service } from '../api/client.ts';
import { keepFetched } from '../api/openFetched.ts';

/** The files of a company's accounts. They are fetched, since a plain link would not say who asks. */
export type FileName = 'salt.csv' | 'salt.parquet';

/** Fetches a file and has the browser keep it. */
export async function download(name: FileName): Promise<void> {
  await keepFetched(name, async () => {
    const { data } =
      name === 'salt.csv'
        ? await service.GET('/v1/salt.csv', { parseAs: 'blob' })
        : await service.GET('/v1/salt.parquet', { parseAs: 'blob' });
    return data;
  });
}
