import { isDeepStrictEqual } from 'node:util';
import type * as z from 'zod';
import { StoreError } from '../../lib/store/errors.ts';
import { parseInstant } from '../../shared/time/instant.ts';
import { recordPages } from '../everything.ts';
import type { Ports } from '../ports.ts';
import { changed } from '../send.ts';
import { READ_ONLY, type Rest, type restoredSchema, restSchema } from './restSchema.ts';

type Restored = z.infer<typeof restoredSchema>;
type Line = { readonly rest: Rest } | { readonly readOnly: true } | { readonly broken: string };

/** The lines of a backup, each judged on its own. */
export function linesOfRest(text: string): Line[] {
  return text
    .split(/\r?\n/)
    .filter((line) => line.trim() !== '')
    .map(lineOf);
}

function lineOf(text: string): Line {
  let value: unknown;
  try {
    value = JSON.parse(text);
  } catch {
    return { broken: 'is not JSON' };
  }
  const kind = typeof value === 'object' && value !== null && 'kind' in value ? value.kind : undefined;
  if (typeof kind === 'string' && READ_ONLY.includes(kind)) return { readOnly: true };
  const judged = restSchema.safeParse(value);
  if (judged.success) return { rest: judged.data };
  const [issue] = judged.error.issues;
  return { broken: `${issue?.path.join('.') ?? ''}: ${issue?.message ?? 'does not fit'}` };
}

/** Takes lines of a backup back into a company, whichever company they were of. What was there under the same names is replaced. */
export async function restore(ports: Ports, companyId: string, lines: readonly Line[]): Promise<Restored> {
  const problems: Restored['problems'] = [];
  let [accepted, readOnly] = [0, 0];
  for (const [index, line] of lines.entries()) {
    if ('readOnly' in line) {
      readOnly += 1;
      continue;
    }
    const problem = 'broken' in line ? line.broken : await take(ports, companyId, line.rest);
    if (problem === undefined) accepted += 1;
    else problems.push({ line: index + 1, message: problem });
  }
  return { accepted, readOnly, problems };
}

/** Returns why a line cannot be taken; undefined where it stands. */
async function take(ports: Ports, companyId: string, rest: Rest): Promise<string | undefined> {
  const { store } = ports;
  if (rest.kind === 'company') return takeCompany(ports, companyId, rest);
  if (rest.kind === 'person') {
    const { kind: _, ...person } = rest;
    const others = (await store.people(companyId)).filter(
      ({ mail, personId }) => (mail === person.mail) !== (personId === person.personId),
    );
    if (others.length > 0) return `${person.personId}: the id or the address is somebody else's here`;
    return store.putPerson(companyId, person).then(() => undefined, refused);
  }
  const { unitId } = rest;
  const ref = { companyId, unitId };
  const { record } = await store.unit(ref, { fresh: true });
  if (!record) return `${unitId}: there is no such unit, restore the units first`;
  if (rest.kind === 'credential') {
    await store.putPrincipal({ ...ref, name: `${companyId}/${unitId}`, secretHash: rest.secretHash });
    return undefined;
  }
  const { visitId, technician, date, reason, by } = rest;
  const at = parseInstant(rest.at) ?? ports.now();
  await store.putVisit(ref, { visitId, technician, date, reason, by, at });
  return undefined;
}

/** The name and the rules. Channels stay as they are: a history that is sent in afresh would be told to them. */
async function takeCompany(
  { store, queues }: Ports,
  companyId: string,
  { name, rules }: Rest & { kind: 'company' },
): Promise<undefined> {
  const before = await store.company(companyId);
  await store.putCompany({ companyId, name, rules, channels: before?.channels ?? [] });
  if (isDeepStrictEqual(before?.rules ?? {}, rules)) return;
  for await (const records of recordPages(store, companyId)) {
    if (records.length > 0) await queues.assess.send(records.map(changed));
  }
}

function refused(error: unknown): string {
  if (!(error instanceof StoreError) || error.code !== 'refused') throw error;
  return 'the address is that of somebody of another company';
}
