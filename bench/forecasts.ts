/**
 * How well and how fast a household's use is forecast, beside R: exponential smoothing (`forecast::ets`) and a quantile
 * regression forest (`ranger`) on the same days of the same real homes, a day ahead and five days together. R is run if it
 * is installed (Debian: r-base-core, r-cran-forecast, r-cran-ranger). Its quantiles stay in out/forecasts. What a forecast
 * takes is told by turns, with its spread, by `npm run bench -- --only forecasts`.
 * All of it takes five to seven minutes; without ets and forest, half a minute.
 *
 * usage: node bench/run.js forecasts [--homes 46] [--skip ets] [--skip forest]
 */
import { mkdirSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { parseArgs } from 'node:util';
import { table } from '../bin/replay/text.ts';
import { ownPast, sameWeekday, sevenDayMean } from '../lib/demand/backtest/baselines.ts';
import { ours } from '../lib/demand/backtest/ours.ts';
import { realHomes } from '../tests/support/homes.ts';
import { hiddenMarkov } from './families/hiddenMarkov.ts';
import { quantileRegression } from './families/quantileRegression.ts';
import { smoothing } from './families/smoothing.ts';
import { leastCosts, living, livingInProduct, pieces } from './forecasts/ownCost.ts';
import { pointsCsv, pointsOf, SUM_DAYS, WARM_UP_DAYS } from './forecasts/points.ts';
import { replayShare } from './forecasts/replayShare.ts';
import { rolled, type Told } from './forecasts/roll.ts';
import { type Cost, runR } from './forecasts/rScript.ts';
import { type Scored, scored } from './forecasts/scored.ts';

const { values } = parseArgs({
  options: {
    homes: { type: 'string', default: '1000' },
    skip: { type: 'string', multiple: true, default: [] },
  },
});
const OUT = 'out/forecasts';
const SPANS = [1, SUM_DAYS];
const ROUNDS = 6;

const homes = realHomes(WARM_UP_DAYS + 30).slice(0, Number(values.homes));
const points = homes.flatMap(pointsOf);
const rivals = [sevenDayMean, sameWeekday, ownPast, smoothing, hiddenMarkov, quantileRegression];
const ownFamilies = [ours, ...rivals];
const works = [
  livingInProduct(ours.name, homes),
  living(ours, homes, SUM_DAYS),
  ...rivals.flatMap((each) => SPANS.map((span) => living(each, homes, span))),
  ...pieces(homes),
];

mkdirSync(OUT, { recursive: true });
const csv = join(OUT, 'points.csv');
writeFileSync(csv, pointsCsv(homes));
const before = leastCosts(works, ROUNDS);
const scripts = (['ets', 'forest'] as const).filter((script) => !values.skip.includes(script));
const fromR = await Promise.all(scripts.map((script) => runR(script, csv, OUT)));
// R ran meanwhile; what else the machine does has burdened both.
const after = leastCosts(works, ROUNDS);
const costOf = (name: string) => Math.min(before.get(name) ?? Number.NaN, after.get(name) ?? Number.NaN);

const told = new Map<string, Told>(ownFamilies.map((family) => [family.name, rolled(family, homes)]));
const costs: Cost[] = ownFamilies.flatMap(({ name }) =>
  SPANS.map((days) => ({ family: name, days, how: 'live', microseconds: costOf(`${name} ${days}`) })),
);
for (const each of fromR) {
  if (typeof each === 'string') continue;
  for (const [family, quantiles] of each.told) told.set(family, quantiles);
  costs.push(...each.costs);
}

for (const days of SPANS) {
  const ofSpan = points.filter((point) => point.days === days);
  const scores = [...told].map(([name, quantiles]): [string, Scored | null] => [
    name,
    scored(quantiles, ofSpan),
  ]);
  const plain = scores.find(([name]) => name === sevenDayMean.name)?.[1]?.loss ?? Number.NaN;
  const what = days === 1 ? 'the next day' : `the next ${days} days together`;
  console.log(`\nUse of ${what}: ${ofSpan.length} forecasts for ${homes.length} real homes`);
  print(
    ['', 'loss', 'below plain', 'in 80 %', 'homes 70-90 %', 'us a forecast', 'of ours'],
    scores.map(([name, score]) => {
      if (!score) return [name, 'it did not forecast all of them'];
      const { loss, coverage, homesCovered } = score;
      const below = `${(100 * (1 - loss / plain)).toFixed(1)} %`;
      return [name, loss.toFixed(4), below, percent(coverage), percent(homesCovered), ...costsOf(name, days)];
    }),
  );
}

/** What a family takes in live use: the new day taken in and one forecast made, no refitting. */
function costsOf(name: string, days: number): string[] {
  const live = costs.find((cost) => cost.family === name && cost.days === days);
  if (!live) return [];
  return [live.microseconds.toFixed(1), times(live)];
}

/** How many times a cost is that of ours for the same span. */
function times({ days, microseconds }: Cost): string {
  return `${(microseconds / costOf(`${ours.name} ${days}`)).toPrecision(3)} x`;
}

console.log('\nCost of a forecast, microseconds of CPU in one thread');
print(
  ['', 'days', 'how', 'us', 'of ours'],
  costs.map((cost) => [cost.family, String(cost.days), cost.how, cost.microseconds.toFixed(1), times(cost)]),
);

console.log('\nOurs by piece, microseconds of CPU a day of a home');
for (const { name } of pieces([])) console.log(`  ${name.padEnd(20)} ${costOf(name).toFixed(2).padStart(7)}`);
const share = replayShare();
const demand = share.outlook + share.observe;
console.log(
  `Of a replayed flow day (${share.whole.toFixed(0)} us from its line to its forecast, no files) ` +
    `demand takes ${percent(demand / share.whole)}: ${share.outlook.toFixed(1)} us for what lies ahead, ` +
    `${share.observe.toFixed(1)} us to take the day in.`,
);
for (const each of fromR) if (typeof each === 'string') console.log(`\nLeft out: ${each}`);

function print(head: string[], rows: string[][]): void {
  console.log(
    table(
      [head, ...rows],
      head.map((_, column) => (column === 0 ? 'left' : 'right')),
    ),
  );
}

function percent(share: number): string {
  return `${(100 * share).toFixed(1)} %`;
}
