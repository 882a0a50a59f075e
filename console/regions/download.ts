import { service } from '../api/client.ts';

/** The files of a company's accounts. They are fetched, since a plain link would not say who asks. */
export type FileName = 'salt.csv' | 'salt.parquet';

/** Fetches a file and has the browser keep it. */
export async function download(name: FileName): Promise<void> {
  const { data } =
    name === 'salt.csv'
      ? await service.GET('/v1/salt.csv', { parseAs: 'blob' })
      : await service.GET('/v1/salt.parquet', { parseAs: 'blob' });
  if (!data) throw new Error('The service answered with nothing.');
  save(data, name);
}

/** Has the browser keep a file. */
export function save(data: Blob, name: string): void {
  const address = URL.createObjectURL(data);
  const link = document.createElement('a');
  link.href = address;
  link.download = name;
  link.click();
  // The browser has begun to read it by then.
  setTimeout(() => URL.revokeObjectURL(address), 60_000);
}
