import type { Context, Next } from 'hono';
import type { Ports } from '../ports.ts';
import type { Member } from './access.ts';

/** What was said with an act is kept up to so many characters. */
const MOST_DETAIL = 1000;
const UNIT_PATH = /^\/v1\/units\/([^/]+)\//;
/** What is said here may hold secrets, or is a whole registry. */
const NOT_KEPT = /^\/v1\/(company|units|units\/[^/]+\/credential)$/;

/**
 * Serves a request; where it changes something and succeeds, who did it, what and when is written down before it is
 * answered. If that cannot be written the request fails, and is to be sent again: acts can be repeated.
 */
export async function audited(
  c: Context,
  { store, now }: Pick<Ports, 'store' | 'now'>,
  { companyId, name, person }: Member,
  next: Next,
): Promise<void> {
  const isAct = c.req.method !== 'GET';
  const [, unit] = UNIT_PATH.exec(c.req.path) ?? [];
  const said = isAct && !NOT_KEPT.test(c.req.path) ? await c.req.raw.clone().text() : '';
  await next();
  if (!isAct || !c.res.ok) return;
  await store.putAudited(companyId, {
    by: person ? `${person.name} (${person.role})` : name,
    at: now(),
    what: `${c.req.method} ${c.req.path.slice('/v1/'.length)}`,
    unitId: unit ?? null,
    detail: said === '' ? null : said.slice(0, MOST_DETAIL),
  });
}
