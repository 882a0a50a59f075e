import { createHash } from 'node:crypto';
import { type Call, type LocalService, localService, type Reply } from './server.ts';

/** So few keys a page, so that a short list has several. */
const PAGE = 3;

/** Amazon S3, as far as those see it who put, list, read and take off files of one bucket, addressed by its path. */
export async function localS3(
  bucket: string,
): Promise<LocalService & { readonly files: Map<string, Buffer> }> {
  const files = new Map<string, Buffer>();

  function list(query: URLSearchParams): Reply {
    const prefix = query.get('prefix') ?? '';
    const after = query.get('continuation-token') ?? '';
    const keys = [...files.keys()]
      .filter((key) => key.startsWith(prefix) && Buffer.compare(Buffer.from(key), Buffer.from(after)) > 0)
      .sort((a, b) => Buffer.compare(Buffer.from(a), Buffer.from(b)));
    const page = keys.slice(0, PAGE);
    const contents = page.map((key) => `<Contents><Key>${escaped(key)}</Key></Contents>`).join('');
    const isMore = keys.length > PAGE;
    const next = isMore ? `<NextContinuationToken>${escaped(page.at(-1) ?? '')}</NextContinuationToken>` : '';
    return {
      body: `<ListBucketResult>${contents}<IsTruncated>${isMore}</IsTruncated>${next}</ListBucketResult>`,
    };
  }

  function get(key: string, { method, headers }: Call): Reply {
    const file = files.get(key);
    if (!file) return { status: 404, body: '<Error><Code>NoSuchKey</Code></Error>' };
    const etag = `"${createHash('md5').update(file).digest('hex')}"`;
    if (headers['if-match'] !== undefined && headers['if-match'] !== etag) {
      return { status: 412, body: '<Error><Code>PreconditionFailed</Code></Error>' };
    }
    if (method === 'HEAD') return { headers: { etag, 'content-length': String(file.length) } };
    const [, from, to] = /^bytes=(\d+)-(\d+)$/.exec(headers.range ?? '') ?? [];
    if (from === undefined || to === undefined) return { headers: { etag }, body: file };
    return { status: 206, headers: { etag }, body: file.subarray(Number(from), Number(to) + 1) };
  }

  const service = await localService((call): Reply => {
    const { pathname, searchParams } = new URL(call.path, 'http://s3.local');
    if (!pathname.startsWith(`/${bucket}`)) throw new Error(`there is no ${pathname}`);
    const key = decodeURIComponent(pathname.slice(bucket.length + 2));
    if (call.method === 'POST' && searchParams.has('delete')) {
      for (const [, each = ''] of call.body.toString().matchAll(/<Key>(.*?)<\/Key>/g))
        files.delete(unescaped(each));
      return { body: '<DeleteResult></DeleteResult>' };
    }
    if (key === '') return list(searchParams);
    if (call.method !== 'PUT') return get(key, call);
    files.set(key, contentOf(call));
    return { headers: { etag: '"put"' } };
  });
  return { ...service, files };
}

/** What is put; the SDK sends it in pieces where it adds a checksum after it. */
function contentOf({ headers, body }: Call): Buffer {
  if (!/aws-chunked/.test(headers['content-encoding'] ?? '')) return body;
  const pieces: Buffer[] = [];
  for (let at = 0; ; ) {
    const end = body.indexOf('\r\n', at);
    const length = Number.parseInt(body.subarray(at, end).toString(), 16);
    if (!(length > 0)) return Buffer.concat(pieces);
    pieces.push(body.subarray(end + 2, end + 2 + length));
    at = end + 2 + length + 2;
  }
}

function escaped(text: string): string {
  return text.replaceAll('&', '&amp;').replaceAll('<', '&lt;');
}

function unescaped(text: string): string {
  return text.replaceAll('&lt;', '<').replaceAll('&amp;', '&');
}
