/**
 * The stalled meter against the away household, day by day of every run of zero days: how well the probabilities are
 * calibrated, beside those of somebody who knows how the simulated fleet was made.
 *
 * usage: node bench/run.js stall [--units 1000] [--seed 1 ...] [--share 0.06] [--usage CSV] [--rules '{}'] [--svg out/stall.svg]
 */
import { readFileSync, writeFileSync } from 'node:fs';
import { parseArgs } from 'node:util';
import { byKnown, follow } from '../lib/live/follow.ts';
import { newHead } from '../lib/live/head.ts';
import {
  type Bin,
  brierOf,
  calibrationError,
  type Forecast,
  quantile,
  reliability,
} from '../lib/score/statistics.ts';
import { planFleet, type UnitPlan } from '../lib/simulation/plan.ts';
import { simulateUnit } from '../lib/simulation/simulate.ts';
import { readUsage } from '../lib/simulation/usageSeries.ts';
import { noFlow } from '../lib/watch/noFlow.ts';
import { rulesSchema } from '../lib/watch/rules.ts';
import { admit } from '../shared/admission.ts';
import { readRegistry } from '../shared/registry.ts';
import { parseLocalDate } from '../shared/time/localDate.ts';
import { StallBound } from './stall/bound.ts';

const { values } = parseArgs({
  options: {
    units: { type: 'string', default: '1000' },
    days: { type: 'string', default: '365' },
    seed: { type: 'string', multiple: true, default: ['1'] },
    share: { type: 'string', default: '0.03' },
    usage: { type: 'string' },
    rules: { type: 'string', default: '{}' },
    svg: { type: 'string' },
  },
});

/** One day of a run of zero days. */
interface RunDay {
  readonly day: number;
  readonly real: boolean;
  readonly ours: number;
  readonly bound: number;
}

interface Run {
  readonly days: RunDay[];
  /** Days since the stall when the run began; undefined for an absence. */
  stalledSince: number | undefined;
}

const share = Number(values.share);
const days = Number(values.days);
const rules = rulesSchema.parse(JSON.parse(values.rules));
const usage = values.usage ? readUsage(readFileSync(values.usage, 'utf8')) : undefined;
const plans = values.seed.flatMap((seed) =>
  planFleet({
    units: Number(values.units),
    days,
    start: parseLocalDate('2025-01-01') ?? 0,
    seed: Number(seed),
    faults: { 'meter-stalled': share },
    usage,
  }),
);
const runs = plans.flatMap(runsOf);
const unitYears = (plans.length * days) / 365.25;

const later = runs.flatMap((run) => run.days.filter(({ day }) => day >= 3));
const third = runs.flatMap((run) => run.days.filter(({ day }) => day === 3));
console.log(
  `${plans.length} units, ${runs.length} runs, ${third.length} of 3 days or more, ${third.filter(({ real }) => real).length} of these stalls`,
);
for (const [name, sample] of [
  ['on the third day', third],
  ['all days from the third on', later],
] as const) {
  const of = (who: 'ours' | 'bound'): Forecast[] =>
    sample.map((each) => ({ probability: each[who], happened: each.real }));
  const [ours, bound] = [brierOf(of('ours')) ?? 0, brierOf(of('bound')) ?? 0];
  console.log(
    `${name}: Brier ${ours.toFixed(4)}, with perfect knowledge ${bound.toFixed(4)} (${(ours / bound).toFixed(2)} times); calibration error ${calibrationError(of('ours'))?.toFixed(3)}, ${calibrationError(of('bound'))?.toFixed(3)}`,
  );
}
const bins = reliability(later.map(({ ours, real }) => ({ probability: ours, happened: real })));
for (const { from, to, count, meanProbability, share: happened } of bins) {
  console.log(
    `  ${from.toFixed(1)} to ${to.toFixed(1)}  ${String(count).padStart(6)}  said ${meanProbability?.toFixed(3) ?? '-'}  was ${happened?.toFixed(3) ?? '-'}`,
  );
}
for (const who of ['ours', 'bound'] as const) {
  for (const threshold of [0.1, 0.15, 0.2, 0.25, 0.3, 0.4, 0.5, 0.6, 0.7, 0.8, 0.9]) tell(who, threshold);
}
for (const expected of [6, 7, 8, 9, 10, 12]) {
  for (const late of [0.15, 0.2, 0.25, 0.3, 1]) send(expected, late);
}
if (values.svg) writeFileSync(values.svg, diagram(bins));

/** What a threshold would do: when it finds stalls, and how often it is wrong. */
function tell(who: 'ours' | 'bound', threshold: number) {
  const hits = runs.map((run) => ({ run, at: run.days.find((each) => each[who] >= threshold) }));
  const stalls = hits.filter(({ run }) => run.days.some(({ real, day }) => real && day >= 21));
  const delays = stalls.flatMap(({ run, at }) => (at ? [at.day - (run.stalledSince ?? 0)] : []));
  const wrong = hits.filter(({ at }) => at && !at.real).length;
  const by21 =
    stalls.filter(({ run, at }) => at && at.day - (run.stalledSince ?? 0) <= 21).length / stalls.length;
  console.log(
    `  ${who.padEnd(5)} from ${threshold.toFixed(2)}: on day ${quantile(delays, 0.5)}, by day 21 ${by21.toFixed(3)}, wrong ${(wrong / unitYears).toFixed(3)} a unit-year`,
  );
}

/** What sending at so many days of a stall to be expected would do, and after 20 days at a probability anyway. */
function send(expected: number, late: number) {
  const hits = runs.map((run) => ({
    run,
    at: run.days.find(({ ours, day }) => ours * day >= expected || (day >= 20 && ours >= late)),
  }));
  const stalls = hits.filter(({ run }) => run.days.some(({ real, day }) => real && day >= 21));
  const sent = stalls.flatMap(({ run, at }) => (at ? [at.day - (run.stalledSince ?? 0)] : []));
  const by21 = sent.filter((day) => day <= 21).length / stalls.length;
  const wrong = hits.filter(({ at }) => at && !at.real).length / unitYears;
  console.log(
    `  sent at ${expected} days expected, after 20 from ${late}: by day 21 ${by21.toFixed(3)}, median day ${quantile(sent, 0.5)}, wrong ${wrong.toFixed(3)} a unit-year`,
  );
}

function runsOf(plan: UnitPlan): Run[] {
  const { record, events, truth } = simulateUnit(plan);
  const { units } = readRegistry(JSON.stringify([record]));
  const [unit] = units.values();
  if (!unit) throw new Error('the simulated unit has no record');
  const facts = events.flatMap((event) => {
    const admission = admit(JSON.stringify(event), units);
    return admission.accepted ? [admission.fact] : [];
  });
  const stall = truth.find(({ what }) => what === 'fault');
  const from = parseLocalDate(stall?.from ?? '') ?? Infinity;
  const to = parseLocalDate(stall?.to ?? '') ?? Infinity;
  const bound = new StallBound(share, plan);
  const found: Run[] = [];
  let began: number | undefined;
  const onDay: NonNullable<Parameters<typeof follow>[3]['onDay']> = (state, date) => {
    const { run } = state.absence;
    const best = bound.day(state, date);
    if (!run || run.to !== date) return;
    if (began !== run.from) found.push({ days: [], stalledSince: undefined });
    began = run.from;
    const last = found.at(-1);
    const real = date >= from && date < to;
    if (real && last && last.stalledSince === undefined) last.stalledSince = from - run.from;
    const ours = noFlow.look(unit, state, rules['no-flow'], 0)?.probability ?? 0;
    last?.days.push({ day: run.reportedDays, real, ours, bound: best });
  };
  follow(unit, newHead(unit, rules.fold), facts.sort(byKnown), { rules, onDay });
  return found;
}

/** What was said against what was so, as a picture: points on the diagonal are calibrated; their size is how often it was said. */
function diagram(all: readonly Bin[]): string {
  const size = 360;
  const margin = 48;
  const at = (value: number) => margin + value * size;
  const up = (value: number) => margin + (1 - value) * size;
  const most = Math.max(...all.map(({ count }) => count));
  const points = all.flatMap(({ count, meanProbability, share: was }) =>
    meanProbability === null || was === null
      ? []
      : [
          `<circle cx="${at(meanProbability).toFixed(1)}" cy="${up(was).toFixed(1)}" r="${(3 + 11 * Math.sqrt(count / most)).toFixed(1)}" fill="#2a6f97" fill-opacity="0.75"><title>${count} days: said ${meanProbability.toFixed(2)}, was ${was.toFixed(2)}</title></circle>`,
        ],
  );
  const ticks = [0, 0.2, 0.4, 0.6, 0.8, 1].flatMap((value) => [
    `<line x1="${at(value)}" y1="${up(0)}" x2="${at(value)}" y2="${up(0) + 5}" stroke="#555"/><text x="${at(value)}" y="${up(0) + 20}" text-anchor="middle">${value}</text>`,
    `<line x1="${at(0) - 5}" y1="${up(value)}" x2="${at(0)}" y2="${up(value)}" stroke="#555"/><text x="${at(0) - 9}" y="${up(value) + 4}" text-anchor="end">${value}</text>`,
  ]);
  return [
    `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 ${size + 2 * margin} ${size + 2 * margin}" font-family="sans-serif" font-size="12" fill="#222">`,
    `<rect width="100%" height="100%" fill="#fff"/><rect x="${at(0)}" y="${up(1)}" width="${size}" height="${size}" fill="none" stroke="#bbb"/>`,
    `<line x1="${at(0)}" y1="${up(0)}" x2="${at(1)}" y2="${up(1)}" stroke="#999" stroke-dasharray="4 4"/>`,
    ...ticks,
    ...points,
    `<text x="${at(0.5)}" y="${up(0) + 38}" text-anchor="middle">probability of a stalled meter that was said</text>`,
    `<text transform="translate(14 ${up(0.5)}) rotate(-90)" text-anchor="middle">share that was stalled</text>`,
    '</svg>\n',
  ].join('\n');
}
