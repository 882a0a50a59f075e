import { Command, InvalidArgumentError, Option } from 'commander';
import { PAPERS, type Paper } from '../../lib/brief/paper.ts';
import { isMonth } from '../../shared/time/month.ts';
import { CommandError } from '../errors.ts';
import { archiveSource } from '../replay/archiveSource.ts';
import type { Source } from '../replay/source.ts';
import { reportFromService } from '../report/fromService.ts';
import { reportMonth } from '../report/reportMonth.ts';
import { type PassOptions, passOf, withPassOptions } from './options.ts';
import { rulesIn } from './rulesIn.ts';
import { tellProblems } from './tellProblems.ts';

const HELP = `
Writes REGION-MONTH.html, .pdf and .csv (its rows as GET /v1/accounts.csv has them) to the folder: salt, chloride and water of the month with their 80 %
intervals, how each is known, the year before, efficiency, salt that was not needed, and how all of it is worked out, with
the sources. The month is that of the sites' own clocks. Facts known until the end of the events are in it (--until: until
then), so that a report can be made again as it was.

It is made of stored events, of what a service has archived, or by a service that runs. The registry of a service is what its
GET /v1/backup/units.ndjson answers with.

Examples:
  brinebell report alder-county 2026-03 --events events.ndjson --units units.json --out reports
  brinebell report alder-county 2026-03 --data data --units units.ndjson --out reports --metric
  brinebell report alder-county 2026-03 --service http://127.0.0.1:8080 --key-file key --out reports
  brinebell report alder-county 2026-03 --events events.ndjson --units units.json --out reports --shared`;

interface Options extends PassOptions {
  events?: string;
  data?: string;
  units?: string;
  service?: string;
  keyFile?: string;
  company?: string;
  rules?: string;
  out: string;
  metric?: true;
  paper?: Paper;
  shared?: true;
}

/** `brinebell report`: the report of a region's month, for whoever must stand for its figures. */
export function reportCommand(): Command {
  const command = new Command('report')
    .description('report salt, chloride and water of a region’s month as HTML, PDF and CSV')
    .argument('<region>', 'region of the registry')
    .argument('<month>', 'YYYY-MM', toMonth)
    .requiredOption('--out <dir>', 'folder for the outputs')
    .option('--events <file>', 'NDJSON file of events, also .gz; - reads standard input')
    .option('--data <dir>', 'instead of events: the data folder of a service, for what it has archived')
    .option('--units <file>', 'registry of units, a JSON array or NDJSON')
    .option('--service <url>', 'instead of both: a service that runs')
    .option('--key-file <file>', 'with --service: file that holds a key of the company')
    .option('--company <id>', 'the company, where the registry is of several')
    .option('--rules <file>', 'JSON of the rules that differ from the defaults')
    .option('--metric', 'kilograms and cubic metres instead of pounds and US gallons')
    .addOption(
      new Option('--paper <size>', 'of the PDF (default: letter, with --metric a4)').choices([...PAPERS]),
    )
    .option('--shared', 'the form that may go to others: withholds what is of few softeners');
  return withPassOptions(command)
    .addHelpText('after', HELP)
    .action((region: string, month: string, options: Options) =>
      options.service === undefined
        ? fromEvents(region, month, options)
        : fromService(region, month, options.service, options),
    );
}

async function fromEvents(region: string, month: string, options: Options): Promise<void> {
  const { units, out, metric = false, shared = false } = options;
  if (units === undefined)
    throw usage('there is no registry of units', 'Name it as --units, or a service as --service.');
  const reported = await reportMonth({
    ...{ region, month, out, units, company: options.company, isShared: shared },
    events: await eventsOf(options, units),
    rules: await rulesIn(options.rules),
    system: metric ? 'metric' : 'us',
    paper: paperOf(options),
    ...passOf(options),
  });
  tellFiles(reported.files, out);
  const { registry, read, rejected, until, broken } = reported;
  tellProblems(
    { problems: registry.problems, read, accepted: read - rejected, until, broken },
    units,
    'brinebell replay, which lists them',
  );
}

async function fromService(region: string, month: string, service: string, options: Options): Promise<void> {
  const { keyFile, out, metric = false, shared = false } = options;
  const others = (['events', 'data', 'units', 'company', 'rules', 'until'] as const).filter(
    (name) => options[name] !== undefined,
  );
  if (others.length > 0) throw usage(`--service does not go with --${others[0]}`, 'The service has its own.');
  if (keyFile === undefined)
    throw usage('--service needs a key', 'Name the file that holds it as --key-file.');
  const query = new URLSearchParams({
    units: metric ? 'metric' : 'us',
    paper: paperOf(options),
    ...(shared && { shared: 'true' }),
  });
  tellFiles(await reportFromService({ service, keyFile, region, month, out, query }), out);
}

function tellFiles(files: readonly string[], out: string): void {
  console.log(`Written to ${out}: ${files.join(', ')}`);
}

function paperOf({ paper, metric }: Options): Paper {
  return paper ?? (metric ? 'a4' : 'letter');
}

async function eventsOf({ events, data }: Options, units: string): Promise<string | Source> {
  if ((events === undefined) === (data === undefined)) {
    throw usage('events are to be read from one place', 'Name a file as --events, or a folder as --data.');
  }
  return data === undefined ? (events ?? '-') : archiveSource(data, units);
}

function toMonth(text: string): string {
  if (isMonth(text)) return text;
  throw new InvalidArgumentError('It is no month such as 2026-03 (YYYY-MM).');
}

function usage(what: string, advice: string): CommandError {
  return new CommandError('usage', what, advice);
}
