/**
 * Regional salt accounts against the truth of simulated fleets: by how much a region's month is off, and how often its
 * 80 % interval holds what was truly drawn.
 *
 * usage: node bench/run.js salt [--units 2000] [--days 365] [--seed 1 ...] [--faults demo] [--sensors 0.5]
 *        [--doses 0.03,0.08,0.05] [--companies 1] [--untidy 0.02] [--rules '{}']
 *        [--out out/salt.json] [--of out/salt-1.json --of out/salt-2.json ...]
 *
 * --sensors    share of the units whose tank has a level sensor
 * --doses      by how much true doses differ from those on record, as standard deviations from one company to the next,
 *              from one unit to the next, and from one regeneration to the next; `none` where records are right
 * --out, --of  keeps the compared months; tells of such as were kept, instead, so that seeds can run side by side
 * --companies  so many companies a seed, each with the units and with chance of its own: for how often intervals hold
 */
import { readFileSync, writeFileSync } from 'node:fs';
import { parseArgs } from 'node:util';
import { parseFaultMix } from '../lib/simulation/faultMix.ts';
import { rulesSchema } from '../lib/watch/rules.ts';
import { parseLocalDate } from '../shared/time/localDate.ts';
import type { ComparedMonth } from '../tests/support/saltTruth.ts';
import { livedCompany } from './salt/livedCompany.ts';
import { reportLines } from './salt/reportLines.ts';

const { values } = parseArgs({
  options: {
    units: { type: 'string', default: '2000' },
    days: { type: 'string', default: '365' },
    seed: { type: 'string', multiple: true, default: ['1'] },
    faults: { type: 'string', default: 'demo' },
    sensors: { type: 'string', default: '0.5' },
    doses: { type: 'string', default: '0.03,0.08,0.05' },
    companies: { type: 'string', default: '1' },
    untidy: { type: 'string', default: '0.02' },
    rules: { type: 'string', default: '{}' },
    out: { type: 'string' },
    of: { type: 'string', multiple: true, default: [] },
  },
});

/** Seeds of the companies of one seed do not meet those of the next. */
const MOST_COMPANIES = 1000;
const companies = Number(values.companies);
if (!(companies >= 1 && companies < MOST_COMPANIES)) {
  throw new RangeError(`Give from 1 to ${MOST_COMPANIES - 1} companies, not ${values.companies}.`);
}
const rules = rulesSchema.parse(JSON.parse(values.rules));
const [betweenFleets = 0, betweenUnits = 0, betweenRegenerations = 0] = values.doses.split(',').map(Number);
const fleet = {
  units: Number(values.units),
  days: Number(values.days),
  start: parseLocalDate('2025-01-01') ?? 0,
  faults: parseFaultMix(values.faults),
  levelSensors: Number(values.sensors),
  doses: values.doses === 'none' ? undefined : { betweenFleets, betweenUnits, betweenRegenerations },
};

const kept = values.of.flatMap((path) => JSON.parse(readFileSync(path, 'utf8')) as ComparedMonth[][]);
const seeds = kept.length > 0 ? [] : values.seed;
const lived = seeds.flatMap((seed) =>
  Array.from({ length: companies }, (_, company) => {
    const own = companies === 1 ? Number(seed) : Number(seed) * MOST_COMPANIES + company;
    const months = livedCompany({ ...fleet, seed: own }, rules, Number(values.untidy));
    if (process.stderr.isTTY) process.stderr.write(`\rseed ${seed}: ${company + 1} of ${companies} `);
    return months;
  }),
);
if (process.stderr.isTTY) process.stderr.write('\n');
if (values.out) writeFileSync(values.out, JSON.stringify(lived));
console.log(
  kept.length > 0
    ? `${kept.length} companies of ${values.of.join(' ')}`
    : `${lived.length} companies of ${values.units} units, ${values.days} days, faults ${values.faults}, ` +
        `level sensors ${values.sensors}, doses ${values.doses}, seeds ${seeds.join(' ')}`,
);
for (const line of reportLines([...kept, ...lived])) console.log(line);
