/**
 * The stalled meter against the away household: how soon and how rightly people are asked and sent, and how well the
 * probabilities are calibrated, beside those of somebody who knows how the simulated fleet was made. With --usage the
 * households are real ones with stalls laid over them, and what made those nobody knows.
 *
 * usage: node bench/run.js stall [--units 300] [--days 365] [--seed 1 ...] [--share 0.03]
 *        [--usage fixtures/daiad-alicante/daily.csv] [--rules '{}'] [--svg out/stall-reliability.svg]
 */
import { mkdirSync, readFileSync, writeFileSync } from 'node:fs';
import { dirname } from 'node:path';
import { parseArgs } from 'node:util';
import { kindScores } from '../lib/score/kindScores.ts';
import { runScore } from '../lib/score/runScore.ts';
import { type MadeFleet, stallPosteriors } from '../lib/score/stallBound.ts';
import { stallScore } from '../lib/score/stallScore.ts';
import { brierOf, calibrationError, type Forecast, reliability } from '../lib/score/statistics.ts';
import { zeroRunsOf } from '../lib/score/zeroRuns.ts';
import { planFleet } from '../lib/simulation/plan.ts';
import { readUsage } from '../lib/simulation/usageSeries.ts';
import { rulesSchema } from '../lib/watch/rules.ts';
import { parseLocalDate } from '../shared/time/localDate.ts';
import { diagram } from './stall/diagram.ts';
import { type Watched, watched } from './stall/watched.ts';

const { values } = parseArgs({
  options: {
    units: { type: 'string', default: '300' },
    days: { type: 'string', default: '365' },
    seed: { type: 'string', multiple: true, default: ['1'] },
    share: { type: 'string', default: '0.03' },
    usage: { type: 'string' },
    rules: { type: 'string', default: '{}' },
    svg: { type: 'string', default: 'out/stall-reliability.svg' },
  },
});

/** A day of a run of zeros from the third on. */
interface Judged {
  readonly nth: number;
  readonly happened: boolean;
  readonly ours: number;
  /** What perfect knowledge of the simulator gives; null for real homes. */
  readonly bound: number | null;
}

const FROM_DAY = 3;
const start = parseLocalDate('2025-01-01') ?? 0;
const days = Number(values.days);
const stallShare = Number(values.share);
const rules = rulesSchema.parse(JSON.parse(values.rules));
const usage = values.usage ? readUsage(readFileSync(values.usage, 'utf8')) : undefined;
const made: MadeFleet | undefined = usage ? undefined : { start, days, stallShare };
const fleet = values.seed
  .flatMap((seed) =>
    planFleet({
      ...{ units: Number(values.units), days, start, seed: Number(seed), usage },
      faults: { 'meter-stalled': stallShare },
    }),
  )
  .map((plan) => watched(plan, rules));
const units = fleet.map(({ scored }) => scored);
const judged = fleet.flatMap(judgedDays);
const stalls = stallScore(units);
const told = runScore(units, made);
const alerts = kindScores(units).scores.find(({ kind }) => kind === 'no-flow');

console.log(`${units.length} units, ${stalls.stalls} stalls of three weeks or more, ${told.runs} runs`);
show('household asked, median day', stalls.medianDayAsked, '<= 5');
show('needless questions a unit-year', stalls.needlessQuestionsAUnitYear, '<= 0.15');
show('technician sent by day 21', stalls.sentByDay21, '>= 0.95');
show('false trips a unit-year', stalls.falseTripsAUnitYear, '<= 0.03');
console.log('Brier score of days of zeros from the third on, against the optimum');
compare('as thought', brierOf(forecasts('ours')), brierOf(forecasts('bound')));
compare('as told by alerts', told.fromThirdDay.brier, told.fromThirdDay.bound);
compare('on third days only, as told', told.thirdDay.brier, told.thirdDay.bound);
console.log('expected calibration error');
show('of days of zeros from the third on', calibrationError(forecasts('ours')), '<= 0.05');
show('of alerts when raised', alerts?.whenRaised.calibrationError ?? null, '<= 0.05');
show('of all steps of alerts', alerts?.calibrationError ?? null, '<= 0.05');

const bins = reliability(forecasts('ours'));
for (const { from, to, count, meanProbability, share } of bins) {
  const said = meanProbability?.toFixed(3) ?? '-';
  const range = `${from.toFixed(1)} to ${to.toFixed(1)}`;
  console.log(`  ${range}  ${String(count).padStart(6)}  said ${said}  was ${share?.toFixed(3) ?? '-'}`);
}
mkdirSync(dirname(values.svg), { recursive: true });
writeFileSync(values.svg, diagram(bins, `${units.length} ${usage ? 'real homes' : 'units'}, days of zeros`));

function judgedDays({ scored, thought }: Watched): Judged[] {
  const runs = made
    ? stallPosteriors(scored, made)
    : zeroRunsOf(scored).map((run) => ({ run, posteriors: [] }));
  return runs.flatMap(({ run, posteriors }) =>
    run.days.flatMap(({ nth, date, isStalled }, index): Judged[] =>
      nth < FROM_DAY
        ? []
        : [
            {
              ...{ nth, happened: isStalled, ours: thought.get(date) ?? 0 },
              bound: posteriors[index] ?? null,
            },
          ],
    ),
  );
}

function forecasts(who: 'ours' | 'bound'): Forecast[] {
  return judged.flatMap((each) => {
    const probability = each[who];
    return probability === null ? [] : [{ probability, happened: each.happened }];
  });
}

function compare(what: string, ours: number | null, bound: number | null) {
  const times = ours !== null && bound ? ours / bound : null;
  const against = bound === null ? '' : ` against ${bound.toFixed(4)}`;
  show(`  ${what}: ${ours?.toFixed(4) ?? '-'}${against}, times`, times, '<= 1.25');
}

function show(what: string, got: number | null, asked: string) {
  console.log(
    `  ${what.padEnd(64)} ${got === null ? '-'.padStart(6) : got.toFixed(3).padStart(6)}   ${asked}`,
  );
}
