import { Command } from 'commander';
import { CommandError } from '../errors.ts';
import { archiveSource } from '../replay/archiveSource.ts';
import type { Source } from '../replay/source.ts';
import { reportOf } from '../trial/report.ts';
import { trial } from '../trial/trial.ts';
import { type PassOptions, passOf, withPassOptions } from './options.ts';
import { rulesIn } from './rulesIn.ts';
import { tellProblems } from './tellProblems.ts';

const HELP = `
Writes trial.ndjson (each alert before, after, or both), trial.html (a page to look at) and summary.json to the
folder. Nothing that runs is changed.

Rules are a JSON object such as { "overrun": { "raise": 0.97 } }; brinebell schema writes all there are. The registry of a
service is what its GET /v1/backup/units.ndjson answers with; the rules that stand there are the rules of GET /v1/company.

Examples:
  brinebell trial events.ndjson --units units.json --rules proposed.json --out trial
  brinebell trial --data data --units units.json --rules proposed.json --out trial
  brinebell trial events.ndjson.gz --units units.json --against now.json --rules proposed.json --out trial --threads 4`;

interface Options extends PassOptions {
  units: string;
  data?: string;
  out: string;
  rules: string;
  against?: string;
}

/** `brinebell trial`: what a change of the rules would have done to the alerts of a fleet's history. */
export function trialCommand(): Command {
  const command = new Command('trial')
    .description('try rules on stored events: alerts before and after, unit by unit')
    .argument('[events]', 'NDJSON file of events, also .gz; - reads standard input')
    .option('--data <dir>', 'instead of events: the data folder of a service, for what it has archived')
    .requiredOption('--units <file>', 'registry of units, a JSON array or NDJSON')
    .requiredOption('--rules <file>', 'JSON of the rules proposed, as far as they differ from the defaults')
    .requiredOption('--out <dir>', 'folder for the outputs')
    .option('--against <file>', 'JSON of the rules as they are (default: the defaults)');
  return withPassOptions(command)
    .addHelpText('after', HELP)
    .action(async (events: string | undefined, options: Options) => {
      const tried = await trial({
        events: await eventsOf(events, options),
        units: options.units,
        out: options.out,
        present: await rulesIn(options.against),
        proposed: await rulesIn(options.rules),
        ...passOf(options),
      });
      console.log(`${reportOf(tried)}\n\nAll of it is in ${options.out}; look at ${options.out}/trial.html.`);
      const { registry, read, rejected, until, broken } = tried;
      const reading = { problems: registry.problems, read, accepted: read - rejected, until, broken };
      tellProblems(reading, options.units, 'brinebell replay, which lists them');
    });
}

async function eventsOf(events: string | undefined, { data, units }: Options): Promise<string | Source> {
  if ((events === undefined) === (data === undefined)) {
    throw new CommandError(
      'usage',
      'events are to be read from one place',
      'Name a file of events, or --data DIR.',
    );
  }
  return data === undefined ? (events ?? '-') : archiveSource(data, units);
}
