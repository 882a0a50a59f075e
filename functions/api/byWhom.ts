import * as z from 'zod';
import type { Member } from './access.ts';

/** Who does something, where a key is shared by several people. */
export const byWhomSchema = z.string().trim().min(1).max(128).describe('Who does it');

/** What is kept of who did something: who has signed in; or the key, and the person as far as they said. */
export function byWhom({ name, person }: Member, said: string | undefined): string {
  if (person) return `${person.name} (${person.role})`;
  return said === undefined ? name : `${said} (${name})`;
}
