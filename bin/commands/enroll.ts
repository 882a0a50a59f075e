import { Command, InvalidArgumentError } from 'commander';
import * as z from 'zod';
import { RegistryError, readRecords, type UnitRecord } from '../../shared/registry.ts';
import { type Failure, issue, register, revoke, unknownOf } from '../enroll/enrol.ts';
import { keyIn } from '../enroll/key.ts';
import { Service } from '../enroll/service.ts';
import { tell, unitsOf } from '../enroll/tell.ts';
import { rowsOf, type Whose, withFile } from '../enroll/withFile.ts';
import { CommandError } from '../errors.ts';
import { Progress } from '../replay/progress.ts';
import { readText } from '../replay/source.ts';

interface Options {
  service: string;
  keyFile: string;
  out?: string;
  rotate?: string[];
  revoke?: string[];
  atOnce: number;
  dryRun?: true;
}

const HELP = `
Puts the units into the registry of the service, then gives the meter of each what it signs in with: a user name and
password, or, where the service runs on AWS, a code by which it claims a certificate (docs/onboarding.md). These are shown
once and not kept by the service. Each is written to the file of --out as it comes; only you can read that file: keep it as
you would keep keys.

What was cut off is gone on with by doing the same again. Units that are in the file are left alone. One that is not, but
has a credential, fails, so that no meter is cut off by chance: --rotate gives it another. --revoke takes the credentials of
units away, and their rows; a registry that still has them gives them another, so take them out of it too. The key file holds a key of the company, as POST /v1/companies answers with.

Examples:
  brinebell enroll units.json --service https://water.example --key-file key --out credentials.csv
  brinebell enroll units.json --service https://water.example --key-file key --out credentials.csv --dry-run
  brinebell enroll --rotate unit-0007 --service https://water.example --key-file key --out credentials.csv
  brinebell enroll --revoke unit-0007 unit-0009 --service https://water.example --key-file key

Exit status: 0 all done; 1 some units failed, which are listed, or the service cannot be reached; 2 bad usage, a bad
registry, key or file.`;

/** `brinebell enroll`: units into the registry, credentials to their meters. */
export function enrollCommand(): Command {
  return new Command('enroll')
    .description('register units in bulk and give their meters credentials; rotate and revoke them')
    .argument('[units]', 'the registry, JSON or NDJSON; - reads standard input')
    .requiredOption('--service <url>', 'where the service is', serviceUrl)
    .requiredOption('--key-file <file>', 'file that holds a key of the company')
    .option('--out <file>', 'file that the credentials are added to, as CSV')
    .option('--rotate <unit...>', 'give these units another credential')
    .option('--revoke <unit...>', 'take the credentials of these units away')
    .option('--at-once <n>', 'units at a time', wholeNumber, 4)
    .option('--dry-run', 'say what would be done, and do nothing')
    .addHelpText('after', HELP)
    .action(enroll);
}

async function enroll(units: string | undefined, options: Options): Promise<void> {
  const modes = [units, options.rotate, options.revoke].filter((mode) => mode !== undefined);
  if (modes.length !== 1) throw usage('give a registry, --rotate or --revoke, and one of them only');
  if (options.out === undefined && !options.revoke) throw usage('--out names no file for the credentials');
  const { key, companyId } = await keyIn(options.keyFile);
  const registry = units === undefined ? undefined : registryIn(units, await readText(units), companyId);
  const out = options.out;
  const job = { ...options, url: options.service, companyId, service: new Service(options.service, key) };
  warnIfOpen(job.url);
  // A wrong key or address is told before anything is begun.
  await job.service.ask({ method: 'GET', path: '/v1/units?limit=1', tries: 3 }, z.object({}));
  const named = unique(options.rotate ?? options.revoke ?? []);
  if (options.dryRun) return registry ? plan(job, registry, out) : planFor(job, named, options);
  if (registry && out !== undefined) return enrolAll(job, registry, out);
  if (options.rotate && out !== undefined) return rotateAll(job, named, out);
  return revokeAll(job, named, out);
}

interface Job extends Whose {
  readonly service: Service;
  readonly atOnce: number;
}

interface Registry {
  readonly records: readonly UnitRecord[];
  /** Of records that were set aside. */
  readonly failures: readonly Failure[];
}

async function enrolAll(job: Job, { records, failures: setAside }: Registry, out: string): Promise<void> {
  const { lines, failures } = await withFile(out, job, async (file, journal) =>
    withProgress(async (progress) => {
      const inFile = records.filter(({ unitId }) => file.rows.has(unitId)).length;
      const onDone = (done: number) => progress.reach(done);
      progress.begin('Registering', records.length);
      const registered = await register(job.service, records, onDone);
      const refused = new Set(registered.failures.map(({ unitId }) => unitId));
      const todo = records
        .map(({ unitId }) => unitId)
        .filter((unitId) => !file.rows.has(unitId) && !refused.has(unitId));
      progress.begin('Enrolling', todo.length);
      const failed = await issue({ ...job, file, journal, onDone }, todo, false);
      const accepted = records.length - refused.size;
      return {
        lines: [
          `${unitsOf(accepted)} in the registry, ${accepted - registered.unchanged} of them new or changed`,
          `${unitsOf(todo.length - failed.length)} given a credential, in ${out}; ${inFile} had one there`,
        ],
        failures: [...registered.failures, ...failed],
      };
    }),
  );
  tell(lines, [...setAside, ...failures]);
}

async function rotateAll(job: Job, unitIds: readonly string[], out: string): Promise<void> {
  const failures = await withFile(out, job, async (file, journal) =>
    withProgress(async (progress) => {
      progress.begin('Rotating', unitIds.length);
      const onDone = (done: number) => progress.reach(done);
      const failed = await issue({ ...job, file, journal, onDone }, unitIds, true);
      await file.compact();
      return failed;
    }),
  );
  tell([`${unitsOf(unitIds.length - failures.length)} given another credential, in ${out}`], failures);
}

async function revokeAll(job: Job, unitIds: readonly string[], out: string | undefined): Promise<void> {
  const work = (dropRow: (unitId: string) => void) =>
    withProgress(async (progress) => {
      progress.begin('Revoking', unitIds.length);
      return revoke({ ...job, dropRow, onDone: (done) => progress.reach(done) }, unitIds);
    });
  const failures =
    out === undefined
      ? await work(() => {})
      : await withFile(out, job, async (file) => {
          const failed = await work((unitId) => file.drop(unitId));
          await file.compact();
          return failed;
        });
  tell([`${unitsOf(unitIds.length - failures.length)} revoked`], failures);
}

/** Says what would be done. */
async function plan(job: Job, { records, failures }: Registry, out: string | undefined): Promise<void> {
  const rows = out === undefined ? new Map<string, unknown>() : await rowsOf(out, job);
  const inFile = records.filter(({ unitId }) => rows.has(unitId)).length;
  tell(
    [
      `${unitsOf(records.length)} would be put into the registry of ${job.companyId}`,
      `${unitsOf(records.length - inFile)} would be given a credential; ${inFile} have one in the file`,
    ],
    failures,
  );
}

/** The same of units that are named, as far as the service knows them. */
async function planFor(job: Job, unitIds: readonly string[], { out, rotate }: Options): Promise<void> {
  if (out !== undefined) await rowsOf(out, job);
  const failures = await withProgress(async (progress) => {
    progress.begin('Looking them up', unitIds.length);
    return unknownOf({ ...job, onDone: (done) => progress.reach(done) }, unitIds);
  });
  const known = unitsOf(unitIds.length - failures.length);
  tell([rotate ? `${known} would be given another credential` : `${known} would be revoked`], failures);
}

async function withProgress<Result>(work: (progress: Progress) => Promise<Result>): Promise<Result> {
  const progress = new Progress();
  try {
    return await work(progress);
  } finally {
    progress.end();
  }
}

function registryIn(path: string, text: string, companyId: string): Registry {
  try {
    const { records, problems } = readRecords(text, companyId);
    const failures = problems.map(({ record, unitId, message }) => ({
      unitId: unitId ?? `record ${record}`,
      why: message,
    }));
    return { records: [...records.values()], failures };
  } catch (error) {
    if (!(error instanceof RegistryError)) throw error;
    throw new CommandError('registry-unreadable', `${path}: ${error.message}`, 'Nothing was done.');
  }
}

function unique(unitIds: readonly string[]): string[] {
  return [...new Set(unitIds)];
}

/** Secrets are about to go over the network. */
function warnIfOpen(url: string): void {
  const { protocol, hostname } = new URL(url);
  const isHere = ['localhost', '127.0.0.1', '[::1]'].includes(hostname);
  if (protocol === 'http:' && !isHere)
    console.error(`brinebell: warning: credentials travel unprotected to ${url}; https:// protects them`);
}

function usage(what: string): CommandError {
  return new CommandError('usage', what, 'brinebell enroll --help has examples.');
}

function serviceUrl(text: string): string {
  if (URL.canParse(text)) {
    const { protocol, origin, pathname, username } = new URL(text);
    if (/^https?:$/.test(protocol) && username === '') return `${origin}${pathname}`.replace(/\/+$/, '');
  }
  throw new InvalidArgumentError('It must be a URL that begins with https:// or http://.');
}

function wholeNumber(text: string): number {
  if (/^\d{1,2}$/.test(text) && Number(text) >= 1 && Number(text) <= 32) return Number(text);
  throw new InvalidArgumentError('It must be a whole number from 1 to 32.');
}
