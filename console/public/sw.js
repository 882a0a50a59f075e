// Keeps the pages of the console and the briefs that were opened, so that a technician reads them without a network.
// What the service says comes from the network wherever it answers; what was kept stands in where it does not.

/** What the pages are made of. */
const SHELL = 'brinebell-shell';
/** What the service said, for whom. */
const ANSWERS = 'brinebell-answers';
/** So many answers are kept at most, the latest. */
const MOST_ANSWERS = 120;
/** A network that takes longer counts as none, milliseconds. */
const PATIENCE_MS = 6_000;
const KEPT_AT = 'x-kept-at';

/** Answers that are worth keeping: who asks, who there is, the plan, and the briefs and records of units. */
const WORTH_KEEPING = /^\/v1\/(me|people|visits|units\/[^/]+(\/brief)?)$/;
const OF_THE_SERVICE = /^\/(v1|issuer|answer|openapi\.json|health|metrics)(\/|$)/;

self.addEventListener('install', (event) => event.waitUntil(self.skipWaiting()));
self.addEventListener('activate', (event) => event.waitUntil(self.clients.claim()));

self.addEventListener('fetch', (event) => {
  const { request } = event;
  const { origin, pathname } = new URL(request.url);
  if (request.method !== 'GET' || origin !== self.location.origin) return;
  if (request.mode === 'navigate') {
    if (!OF_THE_SERVICE.test(pathname)) event.respondWith(page(request));
  } else if (pathname.startsWith('/assets/') || pathname === '/mark.svg') {
    event.respondWith(file(request));
  } else if (WORTH_KEEPING.test(pathname)) {
    event.respondWith(answer(request));
  }
});

/**
 * The one page that there is, the newest that can be had.
 *
 * @param {Request} request
 */
async function page(request) {
  try {
    const fresh = await fetch(request, { signal: AbortSignal.timeout(PATIENCE_MS) });
    if (fresh.ok) await put(SHELL, '/', fresh.clone());
    return fresh;
  } catch (error) {
    const kept = await match(SHELL, '/');
    if (kept) return kept;
    throw error;
  }
}

/**
 * Files are named by their content: one that is kept is the right one.
 *
 * @param {Request} request
 */
async function file(request) {
  const { pathname } = new URL(request.url);
  const kept = await match(SHELL, pathname);
  if (kept) return kept;
  const fresh = await fetch(request);
  if (fresh.ok) await put(SHELL, pathname, fresh.clone());
  return fresh;
}

/**
 * What the service says; where it does not answer, what it said last to the same person.
 *
 * @param {Request} request
 */
async function answer(request) {
  const key = keyOf(request);
  try {
    const fresh = await fetch(request, { signal: AbortSignal.timeout(PATIENCE_MS) });
    if (fresh.status >= 500) return (key && (await keptAnswer(key))) || fresh;
    if (fresh.ok && key) await keep(key, fresh.clone());
    return fresh;
  } catch (error) {
    const kept = key && (await keptAnswer(key));
    if (kept) return kept;
    throw error;
  }
}

/**
 * An answer is for whoever asked, and for nobody who has not signed in.
 *
 * @param {Request} request
 */
function keyOf(request) {
  const person = personOf(request.headers.get('authorization') ?? '');
  if (person === undefined) return undefined;
  const key = new URL(request.url);
  key.searchParams.set('for', person);
  return key.href;
}

/**
 * The subject of the access token (RFC 7519). Nothing hangs on its signature: a forged one finds what nobody kept.
 *
 * @param {string} authorization
 */
function personOf(authorization) {
  try {
    const [, payload = ''] = authorization.split('.');
    const { iss, sub } = JSON.parse(atob(payload.replaceAll('-', '+').replaceAll('_', '/')));
    return typeof sub === 'string' ? `${iss} ${sub}` : undefined;
  } catch {
    return undefined;
  }
}

/**
 * @param {string} key
 * @param {Response} fresh
 */
async function keep(key, fresh) {
  const headers = new Headers({ 'content-type': fresh.headers.get('content-type') ?? 'application/json' });
  headers.set(KEPT_AT, String(Date.now()));
  const cache = await caches.open(ANSWERS);
  // Put anew it stands last; the first are the oldest.
  await cache.delete(key);
  await cache.put(key, new Response(await fresh.text(), { headers }));
  const keys = await cache.keys();
  await Promise.all(keys.slice(0, Math.max(0, keys.length - MOST_ANSWERS)).map((old) => cache.delete(old)));
}

/**
 * @param {string} key
 */
async function keptAnswer(key) {
  const kept = await match(ANSWERS, key);
  if (!kept || new URL(key).pathname !== '/v1/me') return kept;
  // It says what time it is, and that has gone on meanwhile.
  const me = await kept.json();
  const passed = Date.now() - Number(kept.headers.get(KEPT_AT));
  const now = new Date(Date.parse(me.now) + passed).toISOString();
  return Response.json({ ...me, now });
}

/**
 * @param {string} name
 * @param {string} key
 */
async function match(name, key) {
  return (await caches.open(name)).match(key);
}

/**
 * @param {string} name
 * @param {string} key
 * @param {Response} response
 */
async function put(name, key, response) {
  await (await caches.open(name)).put(key, response);
}
