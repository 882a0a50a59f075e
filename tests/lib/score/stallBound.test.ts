import { describe, expect, it } from 'vitest';
import type { ScoredUnit } from '../../../lib/score/scoredUnit.ts';
import { SeenLog } from '../../../lib/score/seen.ts';
import { stallPosteriors } from '../../../lib/score/stallBound.ts';
import { leavesADay, stallDays } from '../../../lib/score/stallPrior.ts';
import { brierOf } from '../../../lib/score/statistics.ts';
import { ABSENCE_SPREAD, ABSENCES_A_YEAR } from '../../../lib/simulation/household.ts';
import { planFleet, type UnitPlan } from '../../../lib/simulation/plan.ts';
import { simulateUnit } from '../../../lib/simulation/simulate.ts';
import { STALLS } from '../../../lib/simulation/stalls.ts';
import { readRegistry } from '../../../shared/registry.ts';
import { DAYS, FROM, fault, seenOf, unit } from './fleets.ts';

const SHARE = 0.5;
const fleet = (units: number, seed: number, share: number) =>
  planFleet({ units, days: DAYS, start: FROM, seed, faults: { 'meter-stalled': share } });

/** Whether a share of so many is what it should be, by four standard deviations of chance. */
function expectShare(count: number, of: number, share: number): void {
  expect(Math.abs(count - share * of)).toBeLessThan(4 * Math.sqrt(of * share * (1 - share)));
}

describe('what is taken for known of how stalls are made', () => {
  const plans = fleet(500, 11, 1);
  const sound = fleet(500, 11, 0);
  const faults = plans.flatMap(({ fault: each }) => each ?? []);

  it('is what the simulator makes of them', () => {
    const within = (values: readonly number[], { least, most }: { least: number; most: number }) =>
      expect([Math.min(...values), Math.max(...values)]).toEqual([least, most]);
    const begins = faults.map(({ begins: { day } }) => day);
    const { first, last } = stallDays(DAYS);
    expect(
      [Math.min(...begins) - first, last - Math.max(...begins)].every((off) => off >= 0 && off < 5),
    ).toBe(true);
    const dwindling = faults.map(({ dwindlingDays }) => dwindlingDays).filter((each) => each > 0);
    within(dwindling, STALLS.dwindlingDays);
    expectShare(dwindling.length, 500, STALLS.dwindles);
    const mended = faults.flatMap(({ mendedAfterDays }) => mendedAfterDays ?? []);
    within(mended, STALLS.mendedAfter);
    expectShare(mended.length, 500, STALLS.mended);
  });

  it('has as many begin behind an absence as the simulator does', () => {
    // The same unit without its fault is the same household: days that differ are those it was sent away for.
    const sentAway = plans.flatMap((plan, index) => {
      const day = plan.fault?.begins.day ?? 0;
      const other = sound[index]?.use.gallons ?? [];
      const off = plan.use.gallons.flatMap((each, at) => (each === other[at] ? [] : [at - day]));
      return off.length > 0 ? [off] : [];
    });
    // A few are sent away while they were away already.
    expectShare(sentAway.length, 500, STALLS.behindAbsence);
    expect(-Math.min(...sentAway.flat())).toBe(STALLS.awayBefore.most);
    expect(Math.max(...sentAway.flat())).toBe(STALLS.awayAfter.most);
  });
});

describe('how often a home is left, by its past', () => {
  it('is the mean of the gamma posterior, where absences show and rates are small', () => {
    const shape = ABSENCE_SPREAD ** -2;
    const rate = (shape * 365) / ABSENCES_A_YEAR;
    // On days that come one by one a little less than for a Poisson process.
    for (const [left, stayed] of [
      [1, 200],
      [3, 300],
      [12, 330],
    ] as const) {
      const expected = (shape + left) / (rate + stayed + left);
      expect(Math.abs(leavesADay(left, stayed) / expected - 1)).toBeLessThan(0.02);
    }
  });

  it('falls with every day that it is not left, and more so as its absences may not show', () => {
    const rates = [0, 10, 100, 400].map((stayed) => leavesADay(0, stayed));
    expect(rates).toEqual([...rates].sort((a, b) => b - a));
    // Of nothing but the prior: its mean, for the 92 % of homes of which absences show.
    expect(leavesADay(0, 0)).toBeCloseTo((0.92 * ABSENCES_A_YEAR) / 365, 5);
  });
});

describe('the posterior of a stall', () => {
  const made = { start: FROM, days: DAYS, stallShare: SHARE };
  const home = (zeros: number) => [...new Array<number>(100).fill(90), ...new Array<number>(zeros).fill(0)];
  const posteriors = (
    zeros: number,
    others: readonly Record<string, unknown>[] = [],
    truth: ScoredUnit['truth'] = [],
  ) => stallPosteriors(unit(truth, [], { seen: seenOf(home(zeros), others) }), made)[0]?.posteriors ?? [];
  const said = (who: string, from: string, to: string) => ({
    ...{ id: who, type: `brinebell.${who}.v1`, time: `${from}T02:00:00Z`, data: { from, to } },
  });

  it('is what one works out by hand for the first two days', () => {
    // Home on 100 days: 40 of the 276 days on which a meter may stall are over. 70 % of stalls do not dwindle.
    const stall = (SHARE * 0.7) / 276;
    const left = leavesADay(0, 100);
    const atLeast3 = (1 + 2 / 1.9) ** -2.3;
    const atLeast2 = (1 + 1 / 1.9) ** -2.3;
    // Absences of three days or more are announced in one case of five; a stall is noticed on one day in fifty.
    const away1 = left * (1 - 0.2 * atLeast3) * (1 - 41 * stall);
    const away2 = left * (atLeast2 - 0.2 * atLeast3) * (1 - 42 * stall);
    // Behind an absence: 40 pairs of days before and after, of which 3 make no three days, and the others count 0.8.
    const before1 = ((0.3 * stall) / 40) * (3 + 37 * 0.8);
    // One day before the stall: 8 pairs. Back on the day of the stall they might have noticed, of one or two days away
    // nobody is told, and six more pairs. Two to five days before it: 1 + 7 x 0.8, and 3 x 8 x 0.8.
    const behind2 = ((0.3 * stall) / 40) * (0.98 + 1 + 6 * 0.8);
    const before2 = ((0.3 * stall) / 40) * (1 + 7 * 0.8 + 24 * 0.8);
    const home1 = 0.7 * stall * 0.98;
    // On the second day the meter may have stalled behind an absence of their own.
    const home2 = 0.7 * stall * 0.98 ** 2 + left * (1 - 0.2 * atLeast3) * 0.7 * stall;
    const [first, second] = posteriors(2);
    expect(first).toBeCloseTo(home1 / (home1 + away1 + before1), 12);
    expect(second).toBeCloseTo((home2 + behind2) / (home2 + behind2 + away2 + before2), 12);
  });

  it('grows with each day without flow, and does not before meters stall', () => {
    // Later it falls a little: most stalls are mended by then.
    const rising = posteriors(40);
    expect(rising).toEqual([...rising].sort((a, b) => a - b));
    expect(rising[20]).toBeGreaterThan(0.95);
    const early = unit([], [], { seen: seenOf([90, 90, 0, 0, 0, 0]) });
    expect(stallPosteriors(early, made)[0]?.posteriors).toEqual([0, 0, 0, 0]);
  });

  it('knows what the household said', () => {
    // 2025-04-11 is the first day without flow.
    const away = posteriors(8, [said('away', '2025-04-11', '2025-04-15')]);
    expect(Math.max(...away.slice(0, 5))).toBeLessThan(posteriors(8)[4] ?? 0);
    expect(away.slice(5)).toEqual([1, 1, 1]);
    const home = posteriors(8, [said('at-home', '2025-04-13', '2025-04-13')]);
    expect(home.slice(2)).toEqual([1, 1, 1, 1, 1, 1]);
    expect(home.slice(0, 2)).toEqual(posteriors(8).slice(0, 2));
  });

  it('knows that a meter dwindles, and that one which was mended does not stall again', () => {
    const entry = (from: string, detail: Record<string, unknown>, to: string | null = null) =>
      fault({
        kind: 'no-flow',
        cause: 'meter-stalled',
        from,
        to,
        detail: { fault: 'meter-stalled', ...detail },
      });
    const dwindled = posteriors(3, [], [entry('2025-04-11', { dwindlingFrom: '2025-04-02' })]);
    expect(dwindled[0]).toBeGreaterThan(0.7);
    expect(posteriors(3, [], [entry('2025-03-01', {}, '2025-03-20')])).toEqual([0, 0, 0]);
  });

  it('comes true as often as it says, and beats every constant, on a fleet that was made so', () => {
    const days = fleet(120, 12, SHARE).flatMap((plan) =>
      stallPosteriors(simulated(plan), made).flatMap(({ run, posteriors: all }) =>
        run.days.map((each, index) => ({ ...each, probability: all[index] ?? 0, happened: each.isStalled })),
      ),
    );
    for (const nth of [1, 3, 7]) {
      const own = days.filter((each) => each.nth === nth);
      const expected = own.reduce((sum, { probability }) => sum + probability, 0);
      const variance = own.reduce((sum, { probability }) => sum + probability * (1 - probability), 0);
      const came = own.filter(({ happened }) => happened).length;
      expect(Math.abs(came - expected)).toBeLessThan(4 * Math.sqrt(variance));
      const share = came / own.length;
      expect(brierOf(own)).toBeLessThan(share * (1 - share));
    }
  });
});

function simulated(plan: UnitPlan): ScoredUnit {
  const { record, events, truth } = simulateUnit(plan);
  const [own] = readRegistry(JSON.stringify([record])).units.values();
  if (!own) throw new Error('the simulated unit has no record');
  const log = new SeenLog([own.unitId]);
  for (const event of events) log.add(JSON.stringify(event));
  return { unit: own, truth, alerts: [], from: FROM, to: FROM + DAYS - 1, seen: log.of(own.unitId) };
}
