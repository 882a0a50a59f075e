import { readFile } from 'node:fs/promises';
import { Command, InvalidArgumentError, Option } from 'commander';
import { SimulationError } from '../../lib/simulation/errors.ts';
import { parseFaultMix } from '../../lib/simulation/faultMix.ts';
import { planFleet } from '../../lib/simulation/plan.ts';
import { simulateFleet } from '../../lib/simulation/simulate.ts';
import { readUsage, type UsageSeries } from '../../lib/simulation/usageSeries.ts';
import { recordOf } from '../../lib/simulation/wire.ts';
import { formatLocalDate, type LocalDate, parseLocalDate } from '../../shared/time/localDate.ts';
import { CommandError, reasonOf } from '../errors.ts';
import { OutputFolder } from '../replay/outputFolder.ts';

interface Options {
  out: string;
  units?: number;
  days?: number;
  start: LocalDate;
  seed: number;
  faults: string;
  usage: string[];
  untidy: number;
  outage?: string;
}

const FILES = `
Writes to DIR, the same bytes for the same options:
  units.json       the registry
  events.ndjson    what the units send, by when the service receives it
  truth.json       what really happened: [{ unitId, what, kind, cause, from, to, detail }]
  simulation.json  { seed, options, counts }

In truth.json, "what" is
  fault            one that was injected, under the alert kind and cause that should name it. detail.shownOn is the
                   first day on which it makes a difference, detail.also lists what else may rightly be said of it
  regeneration-without-salt   one that drew less than its dose: detail.saltLb of detail.doseLb
  overrun          the bed treated detail.percent more than its true capacity
  absence          nobody was at home for 3 days or more
  salt-low         what is in the tank would last for less than 26 days, were none put in
  confounder       something harmless that may look like a fault: detail.confounder is guests, occupant-joins,
                   occupant-leaves, irrigation, moved, meter-cleaned, level-sensor-sticks, regeneration-by-hand,
                   calendar-limit, salt-in-vain, settings-lost, day-missing, batches or outage
Dates are local and both included; "to" is null while it still lasts at the end.

Examples:
  brinebell simulate --out fleet
  brinebell simulate --out fleet --units 50 --days 730 --faults meter-stalled=0.2,tank-empty=0.1
  brinebell simulate --out fleet --faults none --outage alder-county
  brinebell simulate --out fleet --usage fixtures/daiad-alicante/daily.csv --untidy 0`;

/** `brinebell simulate`: an invented fleet with the truth about it, to develop on and to score alerts by. */
export function simulateCommand(): Command {
  return new Command('simulate')
    .description('simulate a fleet of softeners, with faults and the truth about them')
    .requiredOption('--out <dir>', 'folder to write to')
    .option('--units <n>', 'how many units (default: 300; demo: 200)', whole(1, 100_000))
    .option('--days <n>', 'how many days (default: 365; demo: 182)', whole(1, 10_000))
    .addOption(
      new Option('--start <date>', 'first local day').argParser(localDate).default(20_089, '2025-01-01'),
    )
    .option('--seed <n>', 'another seed makes another fleet', whole(0, 0xffff_ffff), 1)
    .option(
      '--faults <mix>',
      'balanced (half of the units), demo (a few), none, or KIND=SHARE,...',
      'balanced',
    )
    .option('--usage <csv...>', 'daily use of real homes: meter_id,date,litres or gallons', [])
    .option('--outage <region>', 'a region whose carrier is down for 2 to 5 days')
    .option('--untidy <share>', 'share of events late, twice, corrected, missing or malformed', share, 0.02)
    .addHelpText('after', FILES)
    .action(simulate);
}

async function simulate(options: Options): Promise<void> {
  const demo = options.faults === 'demo';
  const { start, seed, faults, untidy, out, units = demo ? 200 : 300, days = demo ? 182 : 365 } = options;
  const files = options.usage;
  const usage = files.length > 0 ? (await Promise.all(files.map(readUsageFile))).flat() : undefined;
  const plans = asked(() =>
    planFleet({ units, days, start, seed, faults: parseFaultMix(faults), usage, outage: options.outage }),
  );
  const folder = new OutputFolder(out);
  try {
    const registry = folder.output('units.json');
    const events = folder.output('events.ndjson');
    const truth = folder.output('truth.json');
    const account = folder.output('simulation.json');
    registry.add(arrayText(plans.map(({ profile }) => recordOf(profile))));
    const stream = simulateFleet(plans, { seed, untidy });
    let day = stream.next();
    for (; !day.done; day = stream.next()) for (const line of day.value) events.add(`${line}\n`);
    const outcome = day.value;
    truth.add(arrayText(outcome.truth));
    const told = {
      units,
      days,
      start: formatLocalDate(start),
      faults,
      usage: files,
      untidy,
      outage: options.outage,
    };
    const counts = { lines: outcome.lines, units, truth: outcome.truth.length, untidy: outcome.untidy };
    account.add(`${JSON.stringify({ seed, options: told, counts }, null, 2)}\n`);
    folder.publish();
    console.log(`${out}: ${units} units, ${days} days, ${outcome.lines} lines in events.ndjson`);
  } finally {
    folder.discard();
  }
}

async function readUsageFile(path: string): Promise<UsageSeries[]> {
  let text: string;
  try {
    text = await readFile(path, 'utf8');
  } catch (error) {
    throw new CommandError(
      'input-unreadable',
      `${path}: ${reasonOf(error)}`,
      'Check the path after --usage.',
    );
  }
  return asked(() => readUsage(text), path);
}

/** Says what was wrong with what was asked for, in the command's terms. */
function asked<Result>(make: () => Result, path?: string): Result {
  try {
    return make();
  } catch (error) {
    if (!(error instanceof SimulationError)) throw error;
    const isUsage = error.code === 'faults-unreadable' || error.code === 'region-unknown';
    const code = isUsage ? 'usage' : 'input-unreadable';
    const message = path === undefined ? error.message : `${path}: ${error.message}`;
    throw new CommandError(code, message, error.advice);
  }
}

function arrayText(items: readonly unknown[]): string {
  return `[\n${items.map((each) => JSON.stringify(each)).join(',\n')}\n]\n`;
}

function whole(least: number, most: number) {
  return (text: string): number => {
    const value = Number(text);
    if (/^\d+$/.test(text) && value >= least && value <= most) return value;
    throw new InvalidArgumentError(`It must be a whole number from ${least} to ${most}.`);
  };
}

function share(text: string): number {
  const value = Number(text);
  if (text.trim() !== '' && value >= 0 && value <= 1) return value;
  throw new InvalidArgumentError('It must be a number from 0 to 1.');
}

function localDate(text: string): LocalDate {
  const date = parseLocalDate(text);
  if (date !== undefined) return date;
  throw new InvalidArgumentError('It must be a date that exists, YYYY-MM-DD.');
}
