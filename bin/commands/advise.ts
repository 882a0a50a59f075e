import { Command, InvalidArgumentError } from 'commander';
import { adviseUnit } from '../../lib/advice/settings/adviseUnit.ts';
import { HISTORY_NEEDED } from '../../lib/advice/settings/doubt.ts';
import { AdviceRefused } from '../../lib/advice/settings/refusal.ts';
import { type RankedAdvice, rollUp } from '../../lib/advice/settings/rollUp.ts';
import type { SettingsAdvice } from '../../lib/advice/settings/settingsAdvice.ts';
import { rulesSchema } from '../../lib/watch/rules.ts';
import type { Unit } from '../../shared/registry.ts';
import { adviceJson, fleetJson } from '../advise/adviceJson.ts';
import { adviceText } from '../advise/adviceText.ts';
import { chartOf, pageOf } from '../advise/chart.ts';
import { fleetText } from '../advise/fleetText.ts';
import { CommandError } from '../errors.ts';
import { type ReadUnits, readUnits } from '../replay/readUnits.ts';
import { writeText } from '../writeText.ts';

/** One day in a hundred and twenty of hard water is hardly noticed: a guess, no source. */
const DEFAULT_HARD_DAYS = 3;
const DEFAULT_VISITS = 50;

const HELP = `
Replays the unit's own past year through the rule of its control under other salt doses, capacities, hardnesses and
hours, and advises the settings of least salt that keep hard-water days within the limit. A hard-water day is a local
day on which water was drawn from a bed that had run out. Refused, with status 1 and what to do, where fewer than
${HISTORY_NEEDED.reportedDays} local days are reported or more than ${100 * HISTORY_NEEDED.missingShare} % of them are missing, where the meter is in doubt (an open no-flow or
low-registration alert), or what is programmed or the hardness of the water, and where a leak runs. Days that were not
reported get expected use. Settings that kept within the limit in one year may exceed it a little in another.

Examples:
  brinebell advise unit-0017 events.ndjson --units units.json
  brinebell advise unit-0017 events.ndjson --units units.json --hard-days 0 --out advice.html
  brinebell advise --fleet events.ndjson --units units.json --visits 50`;

interface Options {
  units: string;
  fleet?: string;
  visits: number;
  hardDays: number;
  json?: string;
  out?: string;
}

/** `brinebell advise`: which settings to choose for a unit, or which visits of a fleet would save most salt. */
export function adviseCommand(): Command {
  return new Command('advise')
    .description('advise the settings of a control by replaying its own past year under others')
    .argument('[unit]', 'unit id')
    .argument('[events]', 'NDJSON file of events, also .gz; - reads standard input')
    .requiredOption('--units <file>', 'registry of units, a JSON array or NDJSON')
    .option('--hard-days <n>', 'hard-water days a year to have at the most', amount, DEFAULT_HARD_DAYS)
    .option('--fleet <events>', 'rank the visits of all units by the salt that they would save')
    .option('--visits <n>', 'with --fleet: how many visits to show', amount, DEFAULT_VISITS)
    .option('--json <file>', 'file to write the advice to as JSON; - writes it to standard output')
    .option('--out <file>', 'the trade-off as a chart: .svg, or .html with the advice below it')
    .addHelpText('after', HELP)
    .action(async (unit: string | undefined, events: string | undefined, options: Options) => {
      if (options.fleet !== undefined) {
        if (unit !== undefined || options.out !== undefined) {
          throw usage(
            '--fleet takes neither a unit nor --out',
            'brinebell advise --fleet EVENTS --units UNITS',
          );
        }
        return adviseFleet(options.fleet, options);
      }
      if (unit === undefined || events === undefined) {
        throw usage(
          'name a unit and its events',
          'brinebell advise UNIT EVENTS --units UNITS, or --fleet EVENTS',
        );
      }
      return adviseOne(unit, events, options);
    });
}

async function adviseOne(unitId: string, events: string, options: Options): Promise<void> {
  const { units, hardDays, json, out } = options;
  if (out !== undefined && !/\.(svg|html)$/.test(out)) {
    throw usage(`--out ${out} is neither .svg nor .html`, 'Name the file accordingly.');
  }
  let told: { unit: Unit; advice: SettingsAdvice } | undefined;
  let refused: AdviceRefused | undefined;
  const rules = rulesSchema.parse({});
  const read = await readUnits({ events, units, task: 'Advising' }, unitId, (unit, received, until) => {
    try {
      told = { unit, advice: adviseUnit(unit, received, { rules, until, mostHardDays: hardDays }) };
    } catch (error) {
      if (!(error instanceof AdviceRefused)) throw error;
      refused = error;
    }
  });
  if (told) {
    const { unit, advice } = told;
    const text = adviceText(unit, advice);
    await tell(text, adviceJson(advice), json);
    if (out !== undefined)
      await writeText(out, out.endsWith('.svg') ? chartOf(advice) : pageOf(advice, text), '--out');
  }
  tellProblems(read, units);
  if (refused) {
    throw new CommandError(
      'advice-refused',
      `${unitId}, ${refused.reason}: ${refused.message}`,
      refused.advice,
    );
  }
}

async function adviseFleet(events: string, options: Options): Promise<void> {
  const { units, hardDays, visits, json } = options;
  const advices: RankedAdvice[] = [];
  const refusals: AdviceRefused[] = [];
  const rules = rulesSchema.parse({});
  const read = await readUnits({ events, units, task: 'Advising' }, undefined, (unit, received, until) => {
    try {
      const advice = adviseUnit(unit, received, { rules, until, mostHardDays: hardDays });
      const { unitId, today, advised, withinLimit, saves } = advice;
      advices.push({ unitId, today, advised, withinLimit, saves });
    } catch (error) {
      if (!(error instanceof AdviceRefused)) throw error;
      refusals.push(error);
    }
  });
  const rolled = rollUp(advices, refusals, visits);
  await tell(fleetText(rolled, hardDays), fleetJson(rolled), json);
  tellProblems(read, units);
}

async function tell(text: string, json: string, path: string | undefined): Promise<void> {
  if (path === '-') {
    process.stdout.write(json);
    return;
  }
  if (path !== undefined) await writeText(path, json, '--json');
  console.log(text);
}

/** Says on standard error what was not right with the inputs, and throws if one was not read whole. */
function tellProblems({ registry: { problems }, rejected, broken }: ReadUnits, units: string): void {
  if (problems.length > 0) {
    console.error(
      `warning: ${problems.length} records of ${units} were set aside; brinebell replay names them`,
    );
  }
  if (rejected > 0) {
    console.error(
      `warning: ${rejected} events were not accepted; brinebell replay names them in rejected.ndjson`,
    );
  }
  if (broken) throw broken;
}

function usage(message: string, advice: string): CommandError {
  return new CommandError('usage', message, advice);
}

function amount(text: string): number {
  const value = Number(text);
  if (text.trim() !== '' && value >= 0 && value < Infinity) return value;
  throw new InvalidArgumentError('It must be a number of 0 or more.');
}
