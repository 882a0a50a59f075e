/** As in the worker: what the pages are made of. */
const SHELL = 'brinebell-shell';

/** Of files that this page has not loaded, so many are kept: other pages want them; the oldest are of an older release. */
const MOST_OTHERS = 60;

/**
 * Keeps the page and the files that it has loaded, also those from before the worker was there, and lets those of an
 * older release go.
 */
export async function keepShell(): Promise<void> {
  const loaded = performance
    .getEntriesByType('resource')
    .map(({ name }) => new URL(name))
    .filter(({ origin, pathname }) => origin === location.origin && isShell(pathname))
    .map(({ pathname }) => pathname);
  const wanted = new Set(['/', ...loaded, ...linked()]);
  const cache = await caches.open(SHELL);
  const kept = new Set((await cache.keys()).map(({ url }) => new URL(url).pathname));
  await Promise.all(
    [...wanted].filter((path) => path === '/' || !kept.has(path)).map((path) => keep(cache, path)),
  );
  const old = (await cache.keys()).filter(({ url }) => !wanted.has(new URL(url).pathname));
  await Promise.all(old.slice(0, Math.max(0, old.length - MOST_OTHERS)).map((file) => cache.delete(file)));
}

function isShell(pathname: string): boolean {
  return pathname.startsWith('/assets/') || pathname === '/mark.svg';
}

/** Scripts and styles that the page names itself. */
function linked(): string[] {
  const elements = document.querySelectorAll<HTMLScriptElement | HTMLLinkElement>('script[src], link[href]');
  return [...elements]
    .map((element) => new URL('src' in element ? element.src : element.href).pathname)
    .filter(isShell);
}

/** @throws what the network does, where none is kept yet */
async function keep(cache: Cache, path: string): Promise<void> {
  try {
    const answer = await fetch(path, path === '/' ? { headers: { accept: 'text/html' } } : {});
    if (answer.ok) await cache.put(path, answer);
  } catch (error) {
    if (!(await cache.match(path))) throw error;
  }
}
