import { readFile, stat } from 'node:fs/promises';
import { join, normalize, sep } from 'node:path';
import { fileHeaders, isHashed } from '../consoleFile.ts';

/** What is served of a folder: an answer, or undefined where nothing is asked of it. */
export type StaticFiles = (request: Request) => Promise<Response | undefined>;

/** The one page that there is. */
const PAGE = '/index.html';

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
    if (found) return answer(found, pathname, headers);
    const asksForPage = request.headers.get('accept')?.includes('text/html') === true;
    const index = asksForPage && !isHashed(pathname) ? await fileOf(folder, PAGE) : undefined;
    return index && answer(index, PAGE, headers);
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
  pathname: string,
  headers: Readonly<Record<string, string>>,
): Response {
  return new Response(body, { headers: { ...headers, ...fileHeaders(pathname) } });
}
