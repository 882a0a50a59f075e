import { availableParallelism } from 'node:os';
import { Command } from 'commander';
import type { Instant } from '../../shared/time/instant.ts';
import { replay } from '../replay/replay.ts';
import { reportOf } from '../replay/report.ts';
import { HELD_CHARACTERS } from '../replay/shuffle.ts';
import { toInstant, toMegabytes, toThreads } from './options.ts';
import { rulesIn } from './rulesIn.ts';
import { tellProblems } from './tellProblems.ts';

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
      const { registry, summary, until, broken } = replayed;
      const { read, accepted } = summary;
      const reading = { problems: registry.problems, read, accepted, until, broken };
      tellProblems(reading, options.units, 'rejected.ndjson');
    });
}
