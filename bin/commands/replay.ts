import { Command } from 'commander';
import { replay } from '../replay/replay.ts';
import { reportOf } from '../replay/report.ts';
import { type PassOptions, passOf, withPassOptions } from './options.ts';
import { rulesIn } from './rulesIn.ts';
import { tellProblems } from './tellProblems.ts';

const HELP = `
Writes alerts.ndjson, forecasts.ndjson, salt.csv, rejected.ndjson and summary.json to the folder, each when it is
complete. The last one in place is summary.json.

Examples:
  brinebell replay events.ndjson --units units.json --out replayed
  brinebell replay events.ndjson.gz --units units.json --out replayed --threads 4
  cat events.ndjson | brinebell replay - --units units.json --out replayed --until 2025-06-30T23:59:59-05:00`;

interface Options extends PassOptions {
  units: string;
  out: string;
  rules?: string;
}

/** `brinebell replay`: stored events through the same code as the live service. */
export function replayCommand(): Command {
  const command = new Command('replay')
    .description('run stored events through the watch: alerts, forecasts, salt accounts')
    .argument('<events>', 'NDJSON file of events, also .gz; - reads standard input')
    .requiredOption('--units <file>', 'registry of units, a JSON array or NDJSON')
    .requiredOption('--out <dir>', 'folder for the outputs')
    .option(
      '--rules <file>',
      'JSON of the rules that differ from the defaults (brinebell schema: rules.json)',
    );
  return withPassOptions(command)
    .addHelpText('after', HELP)
    .action(async (events: string, options: Options) => {
      const replayed = await replay({
        events,
        units: options.units,
        out: options.out,
        rules: await rulesIn(options.rules),
        ...passOf(options),
      });
      console.log(`${reportOf(replayed)}\n\nAll of it is in ${options.out}.`);
      const { registry, summary, until, broken } = replayed;
      const { read, accepted } = summary;
      const reading = { problems: registry.problems, read, accepted, until, broken };
      tellProblems(reading, options.units, 'rejected.ndjson');
    });
}
