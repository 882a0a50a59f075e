import type { Context, Next } from 'hono';
import type { Ports } from '../ports.ts';
import type { Member } from './access.ts';

/** What was said with an act is kept up to so many characters. */
const MOST_DETAIL = 1000;
const UNIT_PATH = /^\/v1\/units\/([^/]+)\//;
/** What is said here may hold secrets, or is a whole registry. */
const NOT_KEPT = /^\/v1\/(company|units|units\/[^/]+\/credential|backup\/.*)$/;

/** Looking changes nothing, but whoever takes all of it away is written down. */
const TAKES_ALL = /^\/v1\/backup\//;

/**
 * Serves a request. Where it changes something, or takes everything away, who did it, what and when is written down first; what is refused after all
 * is taken off again. So nothing is done that is not written down; what broke off half-way stays.
 */
export async function audited(
  c: Context,
  { store, now }: Pick<Ports, 'store' | 'now'>,
  { companyId, name, person }: Member,
  next: Next,
): Promise<void> {
  const looks = c.req.method === 'GET' || c.req.method === 'HEAD';
  if (looks && !TAKES_ALL.test(c.req.path)) return next();
  const said = NOT_KEPT.test(c.req.path) ? '' : await c.req.raw.clone().text();
  const [, unit] = UNIT_PATH.exec(c.req.path) ?? [];
  const key = await store.putAudited(companyId, {
    by: person ? `${person.name} (${person.role})` : name,
    at: now(),
    what: `${c.req.method} ${c.req.path.slice('/v1/'.length)}`,
    unitId: unit ?? null,
    detail: said === '' ? null : said.slice(0, MOST_DETAIL),
  });
  await next();
  if (c.res.status >= 400 && c.res.status < 500) await store.dropAudited(companyId, key);
}
