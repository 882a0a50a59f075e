import { Command, InvalidArgumentError } from 'commander';
import { LEAST_SCORED_DAYS } from '../../lib/demand/backtest/backtest.ts';
import { backtestText } from '../backtest/backtestText.ts';
import { pageOf } from '../backtest/page.ts';
import { homesOfEvents, homesOfUsage, type ReadHomes } from '../backtest/readHomes.ts';
import { reportJson } from '../backtest/report.ts';
import { runBacktest } from '../backtest/runBacktest.ts';
import { CommandError } from '../errors.ts';
import { OutputFolder } from '../replay/outputFolder.ts';
import { writeText } from '../writeText.ts';

const DEFAULT_WARM_UP = 60;
const DEFAULT_HORIZONS: readonly number[] = [1, 2, 3, 5, 7, 14];
/** The seven-day mean needs a week, and another to learn how far it is off. */
const LEAST_WARM_UP = 14;
const MOST_WARM_UP = 3650;
const MOST_DAYS_AHEAD = 90;

const HELP = `
Lives through the history of each home again, day by day: from the days before alone, every reported day after the
warm-up is forecast, and the use of the next 2, 3, 5 ... days together where all of them were reported. The demand model
does so, and beside it three plain rules with the home's own past errors: the mean of the last seven reported days, the
same weekdays of the last week, and the home's own past use. Days are taken as the meter reported them; one that was not
reported is missing, not zero. A home needs ${LEAST_SCORED_DAYS} reported days after the warm-up. Events are settled as a
replay settles them: copies, corrections, lines that are not accepted.

Writes to DIR:
  backtest.json  all figures, also home by home
  backtest.html  the figures with charts, in one file

Examples:
  brinebell backtest events.ndjson --units units.json --out backtest
  brinebell backtest --usage fixtures/daiad-alicante/daily.csv fixtures/ampds2-house/daily.csv --out backtest
  brinebell backtest --usage daily.csv --warm-up 90 --horizons 1,7 --json -`;

interface Options {
  units?: string;
  usage: string[];
  out?: string;
  warmUp: number;
  horizons: readonly number[];
  json?: string;
}

/** `brinebell backtest`: how good the demand forecasts would have been. */
export function backtestCommand(): Command {
  return new Command('backtest')
    .description('score demand forecasts on history, by horizon, against plain rules')
    .argument('[events]', 'NDJSON file of events, also .gz; - reads standard input')
    .option('--units <file>', 'registry of units, a JSON array or NDJSON')
    .option('--usage <csv...>', 'instead of events: daily use of homes, meter_id,date,litres or gallons', [])
    .option('--out <dir>', 'folder for backtest.json and backtest.html')
    .option(
      '--warm-up <days>',
      'reported days of a home before the first that is forecast',
      whole(LEAST_WARM_UP, MOST_WARM_UP),
      DEFAULT_WARM_UP,
    )
    .option('--horizons <list>', 'how many days to forecast together', horizons, DEFAULT_HORIZONS)
    .option('--json <file>', 'file to write the figures to as JSON; - writes them to standard output')
    .addHelpText('after', HELP)
    .action(backtest);
}

async function backtest(events: string | undefined, options: Options): Promise<void> {
  const { warmUp: warmUpDays, horizons, out, json } = options;
  const { homes, read } = await readAsked(events, options);
  if (read?.broken) throw read.broken;
  const report = runBacktest(homes, { warmUpDays, horizons });
  const figures = reportJson(report);
  if (out !== undefined) publish(out, figures, pageOf(report));
  if (json === '-') process.stdout.write(figures);
  else {
    if (json !== undefined) await writeText(json, figures, '--json');
    console.log(backtestText(report));
    if (out !== undefined) console.log(`\nbacktest.html and backtest.json are in ${out}.`);
  }
  if (read && read.rejected > 0) {
    console.error(
      `warning: ${read.rejected} events were not accepted; brinebell replay names them in rejected.ndjson`,
    );
  }
  const problems = read?.registry.problems.length ?? 0;
  if (problems > 0) {
    console.error(
      `warning: ${problems} records of ${options.units} were set aside; brinebell replay names them`,
    );
  }
}

function readAsked(events: string | undefined, { units, usage }: Options): Promise<ReadHomes> {
  if (usage.length > 0 && events === undefined && units === undefined) return homesOfUsage(usage);
  if (usage.length === 0 && events !== undefined && units !== undefined) {
    return homesOfEvents({ events, units, task: 'Forecasting' });
  }
  throw new CommandError(
    'usage',
    'name events and their units, or files of daily use',
    'brinebell backtest EVENTS --units UNITS, or brinebell backtest --usage CSV',
  );
}

function publish(out: string, figures: string, page: string): void {
  const folder = new OutputFolder(out);
  try {
    folder.output('backtest.json').add(figures);
    folder.output('backtest.html').add(page);
    folder.publish();
  } finally {
    folder.discard();
  }
}

function horizons(text: string): number[] {
  const each = text.split(',').map((part) => whole(1, MOST_DAYS_AHEAD)(part.trim()));
  return [...new Set(each)].sort((a, b) => a - b);
}

function whole(least: number, most: number) {
  return (text: string): number => {
    const value = Number(text);
    if (/^\d+$/.test(text) && value >= least && value <= most) return value;
    throw new InvalidArgumentError(`It must be a whole number from ${least} to ${most}.`);
  };
}
