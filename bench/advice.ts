/**
 * Settings advice on a simulated fleet: what it costs, what it saves, and how near the replay of today's settings comes
 * to what truly happened. With `--ahead` the advice of a first year is tried on a second one.
 *
 * usage: node bench/run.js advice [--seed 11] [--units 60] [--faults none] [--usage fixtures/daiad-alicante/daily.csv]
 *   [--hard-days 3] [--each] [--ahead]
 */
import { readFileSync } from 'node:fs';
import { parseArgs } from 'node:util';
import { type Outcome, outcomeOf } from '../lib/advice/settings/outcome.ts';
import { DAYS_A_YEAR, pastUse } from '../lib/advice/settings/pastUse.ts';
import { AdviceRefused } from '../lib/advice/settings/refusal.ts';
import { regenerationWater } from '../lib/advice/settings/regenerationWater.ts';
import { rollUp } from '../lib/advice/settings/rollUp.ts';
import { type SettingsAdvice, settingsAdvice } from '../lib/advice/settings/settingsAdvice.ts';
import { byKnown, follow } from '../lib/live/follow.ts';
import { newHead } from '../lib/live/head.ts';
import { parseFaultMix } from '../lib/simulation/faultMix.ts';
import { planFleet } from '../lib/simulation/plan.ts';
import { simulateUnit } from '../lib/simulation/simulate.ts';
import { readUsage } from '../lib/simulation/usageSeries.ts';
import { rulesSchema } from '../lib/watch/rules.ts';
import { parseLocalDate } from '../shared/time/localDate.ts';
import { toFact } from '../shared/toFact.ts';

const { values } = parseArgs({
  options: {
    seed: { type: 'string', default: '11' },
    units: { type: 'string', default: '60' },
    faults: { type: 'string', default: 'none' },
    usage: { type: 'string', multiple: true },
    'hard-days': { type: 'string', default: '3' },
    each: { type: 'boolean', default: false },
    ahead: { type: 'boolean', default: false },
  },
});

const rules = rulesSchema.parse({});
const plans = planFleet({
  units: Number(values.units),
  days: values.ahead ? 2 * DAYS_A_YEAR : DAYS_A_YEAR,
  start: parseLocalDate('2025-01-01') ?? 0,
  seed: Number(values.seed),
  faults: parseFaultMix(values.faults),
  usage: values.usage?.flatMap((path) => readUsage(readFileSync(path, 'utf8'))),
});

const mostHardDays = Number(values['hard-days']);
const advices: SettingsAdvice[] = [];
const refusals: AdviceRefused[] = [];
const milliseconds: number[] = [];
const saltOff: number[] = [];
const nextYear: { advised: Outcome; today: Outcome }[] = [];
for (const plan of plans) {
  const { profile } = plan;
  const { events, salt } = simulateUnit(plan);
  const all = events.map((event) => toFact(event, profile.zone)).sort(byKnown);
  const facts = all.filter(({ at }) => at <= profile.zone.startOf(plan.start + DAYS_A_YEAR));
  const { head } = follow(profile, newHead(profile, rules.fold), facts, { rules });
  const known = { state: head.state, open: head.open, facts };
  const begun = performance.now();
  try {
    const advice = settingsAdvice(profile, known, { mostHardDays, rules: rules['setting-mismatch'] });
    milliseconds.push(performance.now() - begun);
    advices.push(advice);
    saltOff.push((100 * advice.today.saltLbAYear) / salt.drawnLb - 100);
    if (values.each) console.log(lineOf(advice, salt.drawnLb));
    const use = values.ahead ? pastUse(all) : null;
    if (!use) continue;
    const { resinCubicFeet, alternating, saltDoseLb } = profile;
    const { compensatedHardnessGpg } = head.state;
    const replay = {
      site: { resinCubicFeet, alternating, compensatedHardnessGpg },
      use,
      water: regenerationWater([], saltDoseLb, resinCubicFeet),
    };
    const [today, advised] = [advice.today, advice.advised].map(({ settings }) =>
      outcomeOf(replay, settings),
    );
    if (today && advised && advice.withinLimit) nextYear.push({ today, advised });
  } catch (error) {
    if (!(error instanceof AdviceRefused)) throw error;
    refusals.push(error);
    if (values.each) console.log(`${profile.unitId} refused: ${error.message}`);
  }
}

const rolled = rollUp(advices, refusals, 50);
const within = advices.filter(({ withinLimit }) => withinLimit);
const hardToday = advices.map(({ today }) => today.hardDaysAYear);
const fewest = advices.map(({ tried }) => Math.min(...tried.map(({ hardDaysAYear }) => hardDaysAYear)));
const lines = [
  `${advices.length} advised, ${rolled.unitsBeyondLimit} of them beyond ${mostHardDays} hard-water days; refused ${JSON.stringify(rolled.refused)}`,
  `today: ${mean(advices.map(({ today }) => today.saltLbAYear))} lb, ${mean(hardToday)} hard-water days, ${quartiles(hardToday)}`,
  `fewest hard-water days that any settings reach: ${quartiles(fewest)}`,
  `within the limit: saves ${mean(within.map(({ saves }) => saves.saltLb))} lb, ${mean(within.map(({ saves }) => saves.waterGallons))} gal, ${mean(within.map(({ saves }) => saves.hardDays))} hard-water days`,
  `visits: ${rolled.visits.length} of ${rolled.unitsToGain} save ${rolled.savedByVisitsLb.toFixed(0)} of ${rolled.savedByAllLb.toFixed(0)} lb`,
  `candidates ${mean(advices.map(({ tried }) => tried.length))}, ms a unit ${quartiles(milliseconds)}`,
];
if (values.ahead) {
  const hard = nextYear.map(({ advised }) => advised.hardDaysAYear);
  lines.push(
    `the year after: saves ${mean(nextYear.map(({ today, advised }) => today.saltLbAYear - advised.saltLbAYear))} lb; hard-water days ` +
      `${mean(hard)}, ${quartiles(hard)}, over the limit ${hard.filter((days) => days > mostHardDays).length} of ${hard.length}`,
    `  under today's settings ${mean(nextYear.map(({ today }) => today.hardDaysAYear))}`,
  );
} else
  lines.push(`salt of today's settings replayed over the truth, %: ${mean(saltOff)}, ${quartiles(saltOff)}`);
console.log(lines.join('\n'));

function lineOf({ unitId, today, advised, withinLimit }: SettingsAdvice, drawnLb: number): string {
  const text = ({ settings, ...each }: Outcome) =>
    `${Object.values(settings).join(' ')}: ${[each.saltLbAYear, each.waterGallonsAYear, each.hardDaysAYear].map(Math.round).join(' ')}`;
  return `${unitId} ${text(today)} (truly ${drawnLb.toFixed(0)}) -> ${text(advised)}${withinLimit ? '' : ' beyond'}`;
}

function mean(numbers: readonly number[]): string {
  return (numbers.reduce((sum, each) => sum + each, 0) / numbers.length).toFixed(1);
}

function quartiles(numbers: readonly number[]): string {
  const sorted = [...numbers].sort((a, b) => a - b);
  const at = [0, 0.25, 0.5, 0.75, 1].map((p) => sorted[Math.round(p * (sorted.length - 1))] ?? Number.NaN);
  return `least, quartiles, most: ${at.map((each) => each.toFixed(1)).join(' ')}`;
}
