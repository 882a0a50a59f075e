import { expect, it } from 'vitest';
import { backtestHome, PLAIN } from '../../../lib/demand/backtest/backtest.ts';
import { ours } from '../../../lib/demand/backtest/ours.ts';
import { live } from '../../../lib/demand/backtest/roll.ts';
import { summarise } from '../../../lib/demand/backtest/summary.ts';
import type { UsedDay } from '../../../lib/demand/backtest/usedDay.ts';
import { newHousehold, observe, skip } from '../../../lib/demand/household.ts';
import { exhaustionDays } from '../../../lib/demand/passage.ts';
import { realHomes } from '../../support/homes.ts';

const WARM_UP_DAYS = 60;
const HORIZONS = [1, 5];
/** Mean days' use whose end is forecast, and within how many days it is looked for. */
const RUN_DAYS = 5;
const LOOKED_AHEAD = 30;

const homes = realHomes(WARM_UP_DAYS + 30);

// The figures that these bounds hold are in docs/decisions/0003-demand-model.md.
it('forecasts real homes with intervals that hold what they say, and better than the seven-day mean', () => {
  const scores = homes.flatMap((record, home) =>
    backtestHome({ home: String(home), record }, { warmUpDays: WARM_UP_DAYS, horizons: HORIZONS }),
  );
  const [day, five] = HORIZONS.map((days) =>
    summarise(scores, PLAIN).find((score) => score.family === ours.name && score.days === days),
  );
  if (process.env.TELL) console.log({ day, five });
  expect(day?.homes).toBe(homes.length);
  expect(day?.coverage[80]).toBeGreaterThan(0.77);
  expect(day?.coverage[80]).toBeLessThan(0.83);
  expect(day?.below).toBeGreaterThan(0.15);
  expect(day?.homesFair).toBeGreaterThan(0.9);
  // A sum of five days lies within its 80 % interval.
  expect(five?.coverage[80]).toBeGreaterThan(0.77);
  expect(five?.coverage[80]).toBeLessThan(0.83);
  expect(five?.below).toBeGreaterThan(0.15);
  expect(five?.homesFair).toBeGreaterThan(0.9);
});

it('tells when the use of five mean days will be reached', () => {
  const runs = homes.flatMap(runsOf);
  const early = runs.filter(({ days, p10 }) => days < p10).length / runs.length;
  const inTime = runs.filter(({ days, p90 }) => days <= p90).length / runs.length;
  if (process.env.TELL) console.log({ runs: runs.length, early, inTime });
  // As near to a tenth on either side as whole days allow.
  expect(early).toBeLessThan(0.12);
  expect(inTime).toBeGreaterThan(0.87);
  expect(inTime).toBeLessThan(0.94);
});

/** The day on which five mean days' use was reached, where it was without a gap, and the days forecast for it. */
function runsOf(record: readonly UsedDay[]): { days: number; p10: number; p90: number }[] {
  const runs: { days: number; p10: number; p90: number }[] = [];
  let household = newHousehold();
  const forecaster = {
    observe: (date: number, gallons: number) => {
      household = observe(household, date, gallons);
    },
    skip: (date: number) => {
      household = skip(household, date);
    },
  };
  live(record, forecaster, ({ date }, index) => {
    if (index < WARM_UP_DAYS) return;
    const target = RUN_DAYS * household.level;
    const days = daysToReach(record.slice(index, index + LOOKED_AHEAD), target);
    const { p10, p90 } = exhaustionDays(household, date - 1, target);
    if (days !== undefined && p10 !== null && p90 !== null) runs.push({ days, p10, p90 });
  });
  return runs;
}

function daysToReach(record: readonly UsedDay[], target: number): number | undefined {
  const first = record[0]?.date ?? 0;
  let sum = 0;
  for (const [index, { date, gallons }] of record.entries()) {
    if (date !== first + index) return undefined;
    sum += gallons;
    if (sum >= target) return index + 1;
  }
  return undefined;
}
