import { expect, it } from 'vitest';
import type { SaltNeed } from '../../../../lib/salt/deliveries/delivery.ts';
import { deliveryOf } from '../../../../lib/salt/deliveries/deliveryOf.ts';
import { deliveryPlan } from '../../../../lib/salt/deliveries/deliveryPlan.ts';
import { rulesSchema } from '../../../../lib/watch/rules.ts';
import { emptyingTanks } from '../../../support/emptyingTanks.ts';

const rules = rulesSchema.parse({});
/** `BRINEBELL_SEEDS=201,202 BRINEBELL_UNITS=200` measures on other and larger fleets, and prints what is found. */
const { BRINEBELL_SEEDS: seeds = '21', BRINEBELL_UNITS: units = '45' } = process.env;
const PLANNED_AFTER = [70, 110] as const;

/** How the tanks of simulated fleets that nobody refills ran out, against what was told of them some weeks before. */
function measured(seed: number) {
  const found = { early: 0, within: 0, late: 0 };
  const weeks: { low: number; high: number; value: number; asked: number }[] = [];
  const plans = PLANNED_AFTER.map((day) => ({
    day,
    needs: [] as SaltNeed[],
    asked: [0, 0, 0, 0, 0],
    today: 0,
  }));
  for (const tank of emptyingTanks({ units: Number(units), days: 160, seed }, rules)) {
    if (!tank.unit.senses.includes('salt-level')) continue;
    const waiting = new Set<(typeof plans)[number]>();
    for (const { date, at, state } of tank.noons()) {
      const day = date - tank.start;
      for (const plan of plans) {
        if (day !== plan.day || isRefilled(tank, day) || (tank.ranOutOn ?? date) < date) continue;
        const need = deliveryOf(tank.unit, state, rules, at);
        plan.today = date;
        plan.needs.push(need);
        waiting.add(plan);
        if (need.is !== 'dated' || need.delivery.runsOut.p10 > date + 28) continue;
        const { p10, p90 } = need.delivery.runsOut;
        const ranOut = tank.ranOutOn ?? Number.POSITIVE_INFINITY;
        if (ranOut < p10) found.early += 1;
        else if (ranOut <= (p90 ?? Number.POSITIVE_INFINITY)) found.within += 1;
        else found.late += 1;
      }
      // The truck goes on the last safe day as that is known then.
      for (const plan of waiting) {
        const need = deliveryOf(tank.unit, state, rules, at);
        if (need.is !== 'dated' || need.delivery.by > date) continue;
        waiting.delete(plan);
        const week = need.delivery.by < date && day === plan.day ? 0 : 1 + Math.floor((day - plan.day) / 7);
        if (week < plan.asked.length) plan.asked[week] = (plan.asked[week] ?? 0) + need.delivery.bags;
      }
    }
  }
  for (const { needs, asked, today } of plans) {
    for (const { week, askedBags } of deliveryPlan(needs, today, rules.deliveries).total.slice(1))
      weeks.push({ ...askedBags, asked: asked[week] ?? 0 });
  }
  return { found, weeks };
}

/** Whether somebody puts salt in between a day and the day on which it runs out. */
function isRefilled({ addedLb, ranOutOn, start }: ReturnType<typeof emptyingTanks>[number], day: number) {
  const until = ranOutOn === null ? addedLb.length - 1 : Math.max(day, ranOutOn - start) - 1;
  return (addedLb[until] ?? 0) > (addedLb[day - 1] ?? 0);
}

it('one tank in ten runs out before the 10 % day and one in ten after the 90 % day, or fewer; weeks ask for what was told', () => {
  const all = seeds.split(',').map((seed) => measured(Number(seed)));
  const sum = (pick: (one: ReturnType<typeof measured>) => number) =>
    all.reduce((total, one) => total + pick(one), 0);
  const [early, within, late] = [
    sum(({ found }) => found.early),
    sum(({ found }) => found.within),
    sum(({ found }) => found.late),
  ];
  const count = early + within + late;
  const weeks = all.flatMap((one) => one.weeks);
  const held = weeks.filter(({ low, high, asked }) => low <= asked && asked <= high).length;
  const ratio =
    weeks.reduce((total, { asked }) => total + asked, 0) /
    weeks.reduce((total, { value }) => total + value, 0);
  if (process.env.BRINEBELL_SEEDS !== undefined)
    console.log({ early, within, late, held, weeks: weeks.length, askedOverTold: ratio });
  expect(count).toBeGreaterThan(15);
  // Whole days on either side: fewer than a tenth are outside. Three standard errors of this size are allowed for.
  const error = 3 * Math.sqrt(0.09 / count);
  expect(early / count).toBeLessThan(0.1 + error);
  expect(late / count).toBeLessThan(0.1 + error);
  expect(within / count).toBeGreaterThan(0.75);
  expect(ratio).toBeGreaterThan(0.75);
  expect(ratio).toBeLessThan(1.3);
  expect(held / weeks.length).toBeGreaterThan(0.5);
});
