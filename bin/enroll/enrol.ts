import * as z from 'zod';
import { chunks } from '../../shared/chunks.ts';
import { credentialSchema } from '../../shared/credential.ts';
import type { UnitRecord } from '../../shared/registry.ts';
import { importedSchema } from './answers.ts';
import { atOnce } from './atOnce.ts';
import type { CredentialFile } from './credentialFile.ts';
import { rowOf } from './credentialRow.ts';
import type { Journal } from './journal.ts';
import { RefusedError, type Service } from './service.ts';

/** What could not be done for a unit, and why. */
export interface Failure {
  readonly unitId: string;
  readonly why: string;
}

export interface Enrolment {
  readonly service: Service;
  readonly url: string;
  readonly companyId: string;
  readonly file: CredentialFile;
  readonly journal: Journal;
  /** Units at a time. */
  readonly atOnce: number;
  /** Told how many units are done. */
  readonly onDone: (done: number) => void;
}

/** The service takes a request of a mebibyte; a record has a kilobyte, some two. */
const RECORDS_A_REQUEST = 300;
/** Noted together, so that the disk is not asked twice for each unit. */
const UNITS_A_NOTE = 50;

/**
 * Puts records into the service's registry; gives those that it does not take, and how many stood just so before.
 *
 * @param onDone told how many records are done
 */
export async function register(
  service: Service,
  records: readonly UnitRecord[],
  onDone: (done: number) => void,
): Promise<{ readonly failures: Failure[]; readonly unchanged: number }> {
  const failures: Failure[] = [];
  let unchanged = 0;
  let done = 0;
  for (const some of chunks(records, RECORDS_A_REQUEST)) {
    const body = JSON.stringify(some);
    const answer = await orRefusal(service.ask({ method: 'PUT', path: '/v1/units', body }, importedSchema));
    if (answer instanceof RefusedError) {
      failures.push(...some.map(({ unitId }) => ({ unitId, why: answer.message })));
    } else {
      unchanged += answer.unchanged;
      failures.push(...answer.problems.map(({ unitId = '?', message }) => ({ unitId, why: message })));
    }
    done += some.length;
    onDone(done);
  }
  return { failures, unchanged };
}

/**
 * Gives units credentials, each written down before it counts.
 *
 * @param replacing whether a credential that is there is to be replaced; else such a unit fails, unless a run that was cut off
 *   may have made it
 */
export async function issue(
  { service, url, companyId, file, journal, atOnce: most, onDone }: Enrolment,
  unitIds: readonly string[],
  replacing: boolean,
): Promise<Failure[]> {
  const failures: Failure[] = [];
  let done = 0;
  for (const some of chunks(unitIds, UNITS_A_NOTE)) {
    await journal.note(some);
    await atOnce(most, some, async (unitId) => {
      const onlyIfNone = !replacing && !journal.leftOver.has(unitId);
      const asked = { method: 'POST', path: pathOf(unitId), onlyIfNone } as const;
      const credential = await orRefusal(service.ask(asked, credentialSchema));
      if (credential instanceof RefusedError) failures.push({ unitId, why: whyNot(credential) });
      else await file.add(rowOf({ companyId, unitId, credential, service: url, at: new Date() }));
      onDone(++done);
    });
  }
  return failures;
}

/** Revokes the credentials of units; `dropRow` is told of each whose is gone. */
export async function revoke(
  {
    service,
    dropRow,
    atOnce: most,
    onDone,
  }: Pick<Enrolment, 'service' | 'atOnce' | 'onDone'> & {
    readonly dropRow: (unitId: string) => void;
  },
  unitIds: readonly string[],
): Promise<Failure[]> {
  const failures: Failure[] = [];
  let done = 0;
  await atOnce(most, unitIds, async (unitId) => {
    const answer = await orRefusal(service.ask({ method: 'DELETE', path: pathOf(unitId) }, z.undefined()));
    if (answer instanceof RefusedError) failures.push({ unitId, why: answer.message });
    else dropRow(unitId);
    onDone(++done);
  });
  return failures;
}

/** Which of some units the service does not know; nothing is changed. */
export async function unknownOf(
  { service, atOnce: most, onDone }: Pick<Enrolment, 'service' | 'atOnce' | 'onDone'>,
  unitIds: readonly string[],
): Promise<Failure[]> {
  const failures: Failure[] = [];
  let done = 0;
  await atOnce(most, unitIds, async (unitId) => {
    const path = `/v1/units/${encodeURIComponent(unitId)}`;
    const answer = await orRefusal(service.ask({ method: 'GET', path }, z.looseObject({})));
    if (answer instanceof RefusedError) failures.push({ unitId, why: answer.message });
    onDone(++done);
  });
  return failures;
}

function pathOf(unitId: string): string {
  return `/v1/units/${encodeURIComponent(unitId)}/credential`;
}

function whyNot({ type, message }: RefusedError): string {
  if (type !== '/problems/credential-exists') return message;
  return 'it has a credential that is not in the file; --rotate gives its meter another';
}

async function orRefusal<Answer>(asked: Promise<Answer>): Promise<Answer | RefusedError> {
  try {
    return await asked;
  } catch (error) {
    if (error instanceof RefusedError) return error;
    throw error;
  }
}
