import { availableParallelism } from 'node:os';
import { Command, InvalidArgumentError } from 'commander';
import { type Rules, rulesSchema } from '../../lib/watch/rules.ts';
import { type Instant, parseInstant } from '../../shared/time/instant.ts';
import { firstIssue } from '../../shared/zodIssue.ts';
import { CommandError, oneLine } from '../errors.ts';
import { type Replayed, replay } from '../replay/replay.ts';
import { reportOf } from '../replay/report.ts';
import { HELD_CHARACTERS } from '../replay/shuffle.ts';
import { readText } from '../replay/source.ts';

/** Problems of a registry that are shown one by one. */
const PROBLEMS_SHOWN = 20;
const DAY_MS = 86_400_000;
const MEGABYTE = 1 << 20;

const HELP = `
Writes alerts.ndjson, forecasts.ndjson, salt.csv, rejected.ndjson and summary.json to the folder, each when it is
complete. The last one in place is summary.json.

Examples:
  brinebell replay events.ndjson --units units.json --out replayed
  brinebell replay events.ndjson.gz --units units.json --out replayed --threads 4
  cat events.ndjson | brinebell replay - --units units.json --out replayed --until 2025-06-30T23:59:59-05:00`;

interface Options {
  units: string;
  out: string;
  rules?: string;
  until?: Instant;
  threads: number;
  memory: number;
}

/** `brinebell replay`: stored events through the same code as the live service. */
export function replayCommand(): Command {
  return new Command('replay')
    .description('run stored events through the watch: alerts, forecasts, salt accounts')
    .argument('<events>', 'NDJSON file of events, also .gz; - reads standard input')
    .requiredOption('--units <file>', 'registry of units, a JSON array or NDJSON')
    .requiredOption('--out <dir>', 'folder for the outputs')
    .option(
      '--rules <file>',
      'JSON of the rules that differ from the defaults (brinebell schema: rules.json)',
    )
    .option(
      '--until <instant>',
      'end, RFC 3339 with an offset (default: when the last event became known)',
      toInstant,
    )
    .option('--threads <n>', `threads to work in; this machine has ${availableParallelism()}`, toThreads, 1)
    .option(
      '--memory <mb>',
      'text to hold in memory before it goes to disk',
      toMegabytes,
      HELD_CHARACTERS / MEGABYTE,
    )
    .addHelpText('after', HELP)
    .action(async (events: string, options: Options) => {
      const replayed = await replay({
        events,
        units: options.units,
        out: options.out,
        rules: await rulesIn(options.rules),
        until: options.until,
        threads: options.threads,
        heldCharacters: options.memory * MEGABYTE,
      });
      console.log(`${reportOf(replayed)}\n\nAll of it is in ${options.out}.`);
      tellProblems(replayed, options);
    });
}

async function rulesIn(path: string | undefined): Promise<Rules> {
  const advice = 'brinebell schema writes what rules may be; rules that are left out keep their defaults.';
  if (path === undefined) return rulesSchema.parse({});
  const text = await readText(path);
  let json: unknown;
  try {
    json = JSON.parse(text.replace(/^\uFEFF/, ''));
  } catch (error) {
    throw new CommandError(
      'rules-invalid',
      `${path} is not JSON: ${error instanceof Error ? error.message : ''}`,
      advice,
    );
  }
  const parsed = rulesSchema.safeParse(json);
  if (!parsed.success)
    throw new CommandError('rules-invalid', `${path}: ${firstIssue(parsed.error)}`, advice);
  return parsed.data;
}

/** Says on standard error what was not right with the inputs, and throws if one was not read whole. */
function tellProblems(
  { registry: { problems }, summary, until, broken }: Replayed,
  { units }: Options,
): void {
  for (const { record, unitId, message } of problems.slice(0, PROBLEMS_SHOWN)) {
    const whose = unitId === undefined ? '' : ` (${unitId})`;
    console.error(oneLine(`${units}, record ${record}${whose}: ${message}`));
  }
  const hidden = problems.length - PROBLEMS_SHOWN;
  if (hidden > 0) console.error(`${units}: and ${hidden} more`);
  if (summary.read === 0) console.error('warning: there were no events to read');
  else if (summary.accepted === 0) {
    console.error(
      'warning: not one event was accepted; see rejected.ndjson. Is it the right file, and registry?',
    );
  }
  if (until !== undefined && until > Date.now() + DAY_MS) {
    console.error(`warning: the replay ends in the future, at ${summary.until}; --until sets another end`);
  }
  if (broken) throw broken;
  if (problems.length > 0) {
    throw new CommandError(
      'registry-unreadable',
      `${problems.length} of the records of ${units} were set aside`,
      'The others were replayed. Mend the records that are named above and replay again.',
    );
  }
}

function toInstant(text: string): Instant {
  const instant = parseInstant(text);
  if (instant === undefined) {
    throw new InvalidArgumentError(
      'It is no RFC 3339 time with an offset, such as 2025-06-30T23:59:59-05:00.',
    );
  }
  return instant;
}

function toThreads(text: string): number {
  const threads = Number(text);
  if (!/^\d+$/.test(text) || threads < 1 || threads > 256) {
    throw new InvalidArgumentError('It is no whole number from 1 to 256.');
  }
  return threads;
}

function toMegabytes(text: string): number {
  const megabytes = Number(text);
  if (text.trim() === '' || !(megabytes >= 0))
    throw new InvalidArgumentError('It is no number of megabytes.');
  return megabytes;
}
