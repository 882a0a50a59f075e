/**
 * When a fleet that reports at midnight has all its alerts out, and what it costs a month, before anybody pays for it.
 *
 * usage: node bench/run.js scale [--only NAME ...] [--measure] [--out out/scale]
 *
 * `--measure` times the handlers of this machine anew, counts what they ask of the table, and keeps both in
 * bench/scale/measured.json, which the models are fed with.
 */
import { mkdir, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { parseArgs } from 'node:util';
import { billOf } from './scale/bill.ts';
import { overTime } from './scale/charts/overTime.ts';
import { stackedBill } from './scale/charts/stackedBill.ts';
import { tornado } from './scale/charts/tornado.ts';
import { batchesOf } from './scale/day.ts';
import { driversOf } from './scale/drivers.ts';
import { beTimer, isTimer, measure } from './scale/measure/measure.ts';
import { readMeasured } from './scale/measured.ts';
import { type Outcome, run, type Sample } from './scale/run.ts';
import { SCENARIOS } from './scale/scenarios.ts';
import { sensitivity } from './scale/sensitivity.ts';
import { tellOutcomes, tellPeaks, whole } from './scale/tell.ts';
import { tellBills, tellBounds, tellChanges } from './scale/tellBill.ts';
import { usageOf } from './scale/usage.ts';

const MEASURED = new URL('../../bench/scale/measured.json', import.meta.url);

/** Fleets whose bill is worked out. */
const SIZES = [1_000, 100_000, 10_000_000];
/** Scenarios whose course is drawn. */
const ONE = ['1m', '1m-second', '1m-one-zone', '1m-exact', '1m-asked'];
const TEN = ['10m', '10m-quota', '10m-asked'];
const AGE = 'Age of the oldest message that waits';

if (isTimer) await beTimer();
else await main();

async function main() {
  const { values } = parseArgs({
    options: {
      only: { type: 'string', multiple: true },
      measure: { type: 'boolean', default: false },
      out: { type: 'string', default: 'out/scale' },
    },
  });
  if (values.measure) await writeFile(MEASURED, `${JSON.stringify(await measure(), null, 2)}\n`);
  const measured = await readMeasured(MEASURED);
  const chosen = SCENARIOS.filter(({ name }) => values.only?.includes(name) ?? true);
  const outcomes = chosen.map((scenario) => run(measured, scenario));
  for (const { name, what } of chosen) console.log(`${name.padEnd(18)} ${what}`);
  console.log(`\n${tellOutcomes(outcomes)}\n\n${tellPeaks(outcomes)}`);
  if (values.only) return;
  console.log(`\n${tellBounds(measured)}`);
  const fleets = SIZES.map((meters) => {
    const drivers = driversOf(meters, batchesOf(measured, meters));
    return { meters, drivers, bill: billOf(usageOf(measured, drivers)) };
  });
  console.log(`\n${tellBills(fleets)}`);
  const pictures: Record<string, string> = {
    'age-1m.svg': overTime(`${AGE}, 1 million meters`, 'seconds', shown(outcomes, ONE), {
      until: 1_200,
      measureOf: ageOf,
    }),
    'age-10m.svg': overTime(`${AGE}, 10 million meters`, 'seconds', shown(outcomes, TEN), {
      until: 5_400,
      measureOf: ageOf,
    }),
    'running-1m.svg': overTime('Invocations at the same time', 'invocations', shown(outcomes, ONE), {
      until: 1_200,
      measureOf: ({ running }) => running,
    }),
    'bill.svg': stackedBill(fleets),
  };
  for (const { meters, drivers } of fleets.slice(1)) {
    const changes = sensitivity(measured, drivers);
    console.log(`\n${tellChanges(meters, changes)}`);
    pictures[`sensitivity-${meters}.svg`] = tornado(
      `What moves the bill of ${whole(meters)} meters, per cent of it`,
      changes,
    );
  }
  await mkdir(values.out, { recursive: true });
  for (const [name, picture] of Object.entries(pictures)) await writeFile(join(values.out, name), picture);
  console.log(
    `\nPictures: ${Object.keys(pictures)
      .map((name) => join(values.out, name))
      .join(', ')}`,
  );
}

/** Those whose curves tell something beside one another. */
function shown(outcomes: readonly Outcome[], names: readonly string[]): Outcome[] {
  return outcomes.filter(({ scenario }) => names.includes(scenario.name));
}

function ageOf({ stages }: Sample): number {
  return Math.max(...Object.values(stages).map(({ age }) => age));
}
