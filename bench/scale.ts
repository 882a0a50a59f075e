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
import { beTimer, isTimer, measure } from './scale/measure/measure.ts';
import { readMeasured } from './scale/measured.ts';
import { run } from './scale/run.ts';
import { SCENARIOS } from './scale/scenarios.ts';
import { tellOutcomes, tellPeaks } from './scale/tell.ts';

const MEASURED = new URL('../../bench/scale/measured.json', import.meta.url);

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
  await mkdir(values.out, { recursive: true });
  const chosen = SCENARIOS.filter(({ name }) => values.only?.includes(name) ?? true);
  const outcomes = chosen.map((scenario) => run(measured, scenario));
  for (const { name, what } of chosen) console.log(`${name.padEnd(18)} ${what}`);
  console.log(`\n${tellOutcomes(outcomes)}\n\n${tellPeaks(outcomes)}`);
}
