import { readFile, stat } from 'node:fs/promises';
import { extname, join, normalize, sep } from 'node:path';

/** What is served of a folder: an answer, or undefined where nothing is asked of it. */
export type StaticFiles = (request: Request) => Promise<Response | undefined>;

const TYPES: Readonly<Record<string, string>> = {
  '.html': 'text/html; charset=utf-8',
  '.js': 'text/javascript; charset=utf-8',
  '.css': 'text/css; charset=utf-8',
  '.svg': 'image/svg+xml',
  '.png': 'image/png',
  '.woff2': 'font/woff2',
  '.webmanifest': 'application/manifest+json',
  '.json': 'application/json',
  '.map': 'application/json',
};
/** Files named by a hash of their content never change. */
const HASHED = /^\/assets\//;

/**
 * Serves the console's files. A page that is asked for by an address of its own (`/units/u-17`) is the one page that
 * there is, which finds its way by itself.
 *
 * @param headers that go with every answer
 */
export function staticFiles(folder: string, headers: Readonly<Record<string, string>>): StaticFiles {
  return async (request) => {
    if (request.method !== 'GET' && request.method !== 'HEAD') return undefined;
    const { pathname } = new URL(request.url);
    const found = await fileOf(folder, pathname);
    if (found) return answer(found, extname(pathname), HASHED.test(pathname), headers);
    const asksForPage = request.headers.get('accept')?.includes('text/html') === true;
    const index = asksForPage && !HASHED.test(pathname) ? await fileOf(folder, '/index.html') : undefined;
    return index && answer(index, '.html', false, headers);
  };
}

async function fileOf(folder: string, pathname: string): Promise<Uint8Array<ArrayBuffer> | undefined> {
  const path = join(folder, normalize(decoded(pathname)));
  if (!path.startsWith(folder + sep)) return undefined;
  try {
    return (await stat(path)).isFile() ? new Uint8Array(await readFile(path)) : undefined;
  } catch {
    return undefined;
  }
}

function decoded(pathname: string): string {
  try {
    return decodeURIComponent(pathname);
  } catch {
    return '/';
  }
}

function answer(
  body: Uint8Array<ArrayBuffer>,
  extension: string,
  isHashed: boolean,
  headers: Readonly<Record<string, string>>,
): Response {
  return new Response(body, {
    headers: {
      ...headers,
      'content-type': TYPES[extension] ?? 'application/octet-stream',
      'cache-control': isHashed ? 'public, max-age=31536000, immutable' : 'no-cache',
    },
  });
}
