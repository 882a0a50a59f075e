import { service } from '../api/client.ts';
import type { Person } from '../api/types.ts';

/** What an owner writes down about somebody; `sms` may be empty. */
export interface Given {
  readonly name: string;
  readonly mail: string;
  readonly role: Person['role'];
  readonly sms: string;
}

/** Adds or changes somebody. What they said about how they like things shown is kept. */
export async function putPerson(personId: string, { sms, ...given }: Given, before?: Person): Promise<void> {
  const { timeZone, locale, units = 'us' } = before ?? {};
  await service.PUT('/v1/people/{personId}', {
    params: { path: { personId } },
    body: { ...given, units, ...(sms && { sms }), ...(timeZone && { timeZone }), ...(locale && { locale }) },
  });
}

export async function dropPerson(personId: string): Promise<void> {
  await service.DELETE('/v1/people/{personId}', { params: { path: { personId } } });
}

/** An id made of a name: letters, digits and dashes, unlike any that there is. */
export function idFor(name: string, taken: ReadonlySet<string>): string {
  const plain = name
    .normalize('NFKD')
    .toLowerCase()
    .replace(/[^a-z0-9]+/g, '-')
    .replace(/^-+|-+$/g, '')
    .slice(0, 40);
  // A name without a Latin letter says nothing that an id could.
  const stem = /^[a-z]/.test(plain) ? plain : 'person';
  if (!taken.has(stem)) return stem;
  for (let n = 2; ; n += 1) if (!taken.has(`${stem}-${n}`)) return `${stem}-${n}`;
}
