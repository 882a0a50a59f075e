/**
 * How far forecast dates can be relied on: next regeneration and exhaustion against what came, on simulated softeners
 * without faults. A date is right if it lies within p10 to p90, both included; "tails" are the shares before and after.
 * Regenerations by hand or by a calendar limit are nobody's forecast and left out. Exhaustion is judged by the use that came, from what the ledger had left, where no day of it is missing.
 *
 * usage: node bench/run.js outlook [--units 264] [--days 365] [--seed 1] [--usage fixtures/daiad-alicante/daily.csv]
 */
import { readFileSync } from 'node:fs';
import { parseArgs } from 'node:util';
import type { Received } from '../lib/replay/received.ts';
import { replayUnit } from '../lib/replay/replayUnit.ts';
import { parseFaultMix } from '../lib/simulation/faultMix.ts';
import { planFleet, type UnitPlan } from '../lib/simulation/plan.ts';
import { simulateUnit } from '../lib/simulation/simulate.ts';
import { readUsage } from '../lib/simulation/usageSeries.ts';
import { rulesSchema } from '../lib/watch/rules.ts';
import { admit } from '../shared/admission.ts';
import type { Forecast } from '../shared/forecasts.ts';
import { readRegistry } from '../shared/registry.ts';
import { type LocalDate, parseLocalDate } from '../shared/time/localDate.ts';

/** Days of a unit before its forecasts count. */
const WARM_UP_DAYS = 60;
/** As far as is looked ahead. */
const HORIZON_DAYS = 365;
/** A regeneration further away than this is not within a week. */
const WEEK_DAYS = 7;

const { values } = parseArgs({
  options: {
    units: { type: 'string', default: '264' },
    days: { type: 'string', default: '365' },
    seed: { type: 'string', multiple: true, default: ['1'] },
    usage: { type: 'string' },
  },
});

class Mean {
  private sum = 0;
  private count = 0;

  get value(): number {
    return this.sum / this.count;
  }

  add(value: number): void {
    this.sum += value;
    this.count += 1;
  }

  toString(): string {
    return this.value.toFixed(2);
  }
}

/** Forecasts of one kind of date. */
class Dates {
  private readonly name: string;
  private count = 0;
  private before = 0;
  private after = 0;
  private readonly came = new Mean();
  private readonly expected = new Mean();
  private readonly plain = new Mean();
  /** Of the same errors as `came`, by home. */
  private readonly homes: Mean[] = [];

  constructor(name: string) {
    this.name = name;
  }

  /** What is added from now on is of another home. */
  nextHome(): void {
    this.homes.push(new Mean());
  }

  /** @param plainly days until then if each used as much as the mean of the last seven */
  add({ p10, p50, p90 }: Forecast['exhaustion'], from: LocalDate, came: LocalDate, plainly: number): void {
    const [low, middle, high] = [p10, p50, p90].map((date) => (date === null ? null : parseLocalDate(date)));
    if (low === undefined || middle === undefined || high === undefined) return;
    this.count += 1;
    if (low !== null && came < low) this.before += 1;
    if (high !== null && came > high) this.after += 1;
    if (middle === null) return;
    const error = Math.abs(came - middle);
    if (came - from <= WEEK_DAYS) {
      this.came.add(error);
      this.homes.at(-1)?.add(error);
      this.plain.add(Math.abs(came - from - Math.min(plainly, HORIZON_DAYS)));
    }
    if (middle - from <= WEEK_DAYS) this.expected.add(error);
  }

  toString(): string {
    const share = (part: number) => (part / this.count).toFixed(3);
    return [
      this.name.padEnd(18),
      `${this.count} forecasts`,
      `within p10 to p90: ${share(this.count - this.before - this.after)}`,
      `tails ${share(this.before)} and ${share(this.after)}`,
      `mean error of the median, days: ${this.came} where it came within ${WEEK_DAYS} days, ${this.expected} where it was expected to`,
      `half of the homes below ${median(this.homes.map(({ value }) => value)).toFixed(2)}`,
      `by the mean of the last seven days: ${this.plain} where it came`,
    ].join('; ');
  }
}

function median(values: readonly number[]): number {
  const sorted = values.filter(Number.isFinite).sort((a, b) => a - b);
  return sorted[Math.floor(sorted.length / 2)] ?? Number.NaN;
}

const regenerations = new Dates('next regeneration');
const exhaustions = new Dates('exhaustion');
const usage = values.usage ? readUsage(readFileSync(values.usage, 'utf8')) : undefined;
for (const seed of values.seed) {
  const plans = planFleet({
    units: Number(values.units),
    days: Number(values.days),
    start: parseLocalDate('2025-01-01') ?? 0,
    seed: Number(seed),
    faults: parseFaultMix('none'),
    usage,
  });
  for (const plan of plans) judge(plan);
}
console.log(`${regenerations}\n${exhaustions}`);

function judge(plan: UnitPlan): void {
  const { record, events } = simulateUnit(plan);
  const { units } = readRegistry(JSON.stringify([record]));
  const unit = units.get(record.unitId);
  if (!unit) throw new Error('the simulated unit has no record');
  for (const dates of [regenerations, exhaustions]) dates.nextHome();
  const began: { date: LocalDate; byCount: boolean }[] = [];
  const use = new Map<LocalDate, number>();
  const received = events.map((event, index): Received => {
    const raw = JSON.stringify(event);
    const admission = admit(raw, units);
    if (!admission.accepted) throw new Error(`${admission.reason}: ${admission.detail}`);
    const { fact } = admission;
    if (fact.kind === 'regeneration')
      began.push({ date: unit.zone.dateAt(fact.time), byCount: fact.trigger === 'metered' });
    if (fact.kind === 'flow-day') use.set(fact.date, fact.gallons);
    return { line: index + 1, raw, fact };
  });
  replayUnit(unit, received, {
    rules: rulesSchema.parse({}),
    until: unit.zone.noonOf(plan.start + plan.days),
    onForecast: (forecast) => {
      const asOf = parseLocalDate(forecast.asOf) ?? 0;
      if (asOf - plan.start < WARM_UP_DAYS) return;
      const next = began.find(({ date }) => date > asOf);
      const { remaining, reserve } = forecast;
      const mean = lastSevenDaysMean(use, asOf);
      const wholeDays = (gallons: number) => Math.max(Math.ceil(gallons / mean), 0);
      // Looked at in the morning, when the day has hardly begun.
      if (next?.byCount)
        regenerations.add(
          forecast.nextRegeneration,
          asOf,
          next.date,
          (reserve > 0 ? 1 : 0) + wholeDays(remaining - reserve),
        );
      const out = exhaustedOn(use, asOf, remaining);
      if (out !== undefined) exhaustions.add(forecast.exhaustion, asOf, out, wholeDays(remaining));
    },
  });
}

function lastSevenDaysMean(use: ReadonlyMap<LocalDate, number>, asOf: LocalDate): number {
  const days = Array.from({ length: 7 }, (_, back) => use.get(asOf - back)).filter(
    (day) => day !== undefined,
  );
  return days.reduce((sum, day) => sum + day, 0) / days.length;
}

function exhaustedOn(
  use: ReadonlyMap<LocalDate, number>,
  asOf: LocalDate,
  remaining: number,
): LocalDate | undefined {
  if (remaining <= 0) return undefined;
  let sum = 0;
  for (let date = asOf + 1; ; date++) {
    const gallons = use.get(date);
    if (gallons === undefined) return undefined;
    sum += gallons;
    if (sum >= remaining) return date;
  }
}
