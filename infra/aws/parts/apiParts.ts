import type { DeadLetters } from '../../../functions/api/deadLetters.ts';
import type { Credentials } from '../../../functions/meters/credentials.ts';
import type { Trials } from '../../../functions/trial/trials.ts';
import type { ArchiveFiles } from '../../../lib/archive/files.ts';
import { later } from './later.ts';
import type { CloudPorts } from './ports.ts';

/** Credentials of meters whose clients of AWS are loaded when the first is asked for: most processes never need them. */
export function credentialsWhenAsked(ports: CloudPorts): Credentials {
  const made = later(async () => (await import('./meterCredentials.ts')).meterCredentials(ports));
  return {
    has: async (unit) => (await made()).has(unit),
    issue: async (unit) => (await made()).issue(unit),
    revoke: async (unit) => (await made()).revoke(unit),
  };
}

/** The same of dead letters, which somebody looks into now and then. */
export function deadLettersWhenAsked(): DeadLetters {
  const made = later(async () => {
    const [{ deadLettersOf }, { watchedQueues }] = await Promise.all([
      import('./deadLetters.ts'),
      import('./watched.ts'),
    ]);
    return deadLettersOf(watchedQueues());
  });
  return {
    list: async (company) => (await made()).list(company),
    sendAgain: async (company) => (await made()).sendAgain(company),
  };
}

/** The same of trials of rules. */
export function trialsWhenAsked(): Trials {
  const made = later(async () => (await import('./cloudTrials.ts')).cloudTrials());
  return {
    start: async (...order) => (await made()).start(...order),
    look: async (...trial) => (await made()).look(...trial),
    page: async (...trial) => (await made()).page(...trial),
  };
}

/** The same of files, to be read. */
export function filesWhenAsked(): Pick<ArchiveFiles, 'list' | 'open'> {
  const made = later(async () => (await import('./files.ts')).bucketFiles());
  return {
    list: async (prefix) => (await made()).list(prefix),
    open: async (path) => (await made()).open(path),
  };
}
