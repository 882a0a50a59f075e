import * as z from 'zod';
import type { ByRate } from '../../lib/salt/deliveries/delivery.ts';
import type { DatedHouse, WeekSum } from '../../lib/salt/deliveries/deliveryPlan.ts';
import { idSchema } from '../../shared/ids.ts';
import { formatLocalDate, type LocalDate } from '../../shared/time/localDate.ts';
import type { CompanyDeliveries, HouseFacts } from '../companyDeliveries.ts';
import { viewOfVisit, visitView } from './visitView.ts';

const date = z.iso.date();
const lb = z.number().describe('lb');
const count = z.int().min(0);
const round = idSchema.nullable().describe('Null for units on no round');

const weekSumView = z
  .object({
    week: count.describe('0 for what is late already'),
    units: count.describe('Those dated in it'),
    bags: count.describe('That these will take, by the best guess'),
    lb: lb.describe('The same, lb'),
    byRateLb: lb.describe('What units use in a week of whose tanks nothing is known, lb'),
    askedBags: z
      .object({ value: z.number(), low: z.number(), high: z.number() })
      .describe('That will be asked for, with a date and without: mean, and bounds of 80 %'),
  })
  .meta({ id: 'DeliveryWeekSum' });

const unit = z.object({
  unitId: idSchema,
  siteId: idSchema,
  siteName: z.string().nullable(),
  address: z.string().nullable(),
  region: idSchema,
  round,
  lbPerWeek: lb.describe('Salt that it uses, lb a week'),
  lastReported: date.nullable(),
  visits: z.array(visitView).describe('That are planned already, from yesterday until the weeks are over'),
});

const datedView = unit
  .extend({
    week: count.describe('0 for what is late already'),
    by: date.describe('The last day on which a delivery comes in time with 90 %'),
    runsOut: z
      .object({ p10: date, p50: date.nullable(), p90: date.nullable() })
      .describe('Local days; null beyond a year'),
    levelLb: lb,
    levelDeviationLb: lb,
    roomLb: lb.nullable().describe('That the tank will take by then; null where its size is not on record'),
    bags: count.describe('Whole bags that fit, at least one'),
    levelBy: z.enum(['sensor', 'stuck-sensor', 'balance']),
    isEmpty: z.boolean().describe('Regenerations find no salt'),
  })
  .meta({ id: 'DatedUnit' });

const byRateView = unit
  .extend({ why: z.enum(['no-sensor', 'not-read', 'long-silent']).describe('Why it has no date') })
  .meta({ id: 'UnitByRate' });

/** Deliveries as they travel. */
export const deliveriesView = z
  .object({
    bagLb: lb.describe('What a bag holds, lb'),
    units: count.describe('Those that were asked for'),
    weeks: z.array(z.object({ week: count, from: date.nullable(), to: date })),
    rounds: z.array(z.object({ region: idSchema, round, weeks: z.array(weekSumView) })),
    total: z.array(weekSumView),
    dated: z.array(datedView).describe('Units with a date, the earliest first; no route is worked out'),
    byRate: z.array(byRateView).describe('Units without a date, in the sums by their rate'),
    others: z
      .object({
        'set-up': count,
        'out-of-service': count,
        'nothing-reported': count,
        'never-regenerates': count,
        'beyond-a-year': count,
        later: count,
      })
      .describe('Units to which nothing need be brought in these weeks, by reason'),
    regions: z
      .array(z.object({ region: idSchema, rounds: z.array(round) }))
      .describe('All of the company, whichever were asked for'),
  })
  .meta({ id: 'Deliveries' });

/** Deliveries as they travel. */
export function viewOfDeliveries(
  { plan, units, regions, factsOf }: CompanyDeliveries,
  bagLb: number,
): z.infer<typeof deliveriesView> {
  return {
    bagLb,
    units,
    weeks: plan.weeks.map(({ week, from, to }) => ({ week, from: dated(from), to: formatLocalDate(to) })),
    rounds: plan.rounds.map(({ region, round, weeks }) => ({ region, round, weeks: weeks.map(sumOf) })),
    total: plan.total.map(sumOf),
    dated: plan.houses.map((each) => datedOf(each, factsOf(each.unitId))),
    byRate: plan.byRate.map((each) => ({ ...placeOf(each, factsOf(each.unitId)), why: each.why })),
    others: plan.others,
    regions: regions.map(({ region, rounds }) => ({ region, rounds: [...rounds] })),
  };
}

function sumOf({ askedBags, ...sum }: WeekSum): z.infer<typeof weekSumView> {
  return { ...sum, askedBags: { ...askedBags } };
}

function datedOf(each: DatedHouse, facts: HouseFacts): z.infer<typeof datedView> {
  const { week, by, runsOut, levelLb, levelDeviationLb, roomLb, bags, levelBy, isEmpty } = each;
  const { p10, p50, p90 } = runsOut;
  return {
    ...placeOf(each, facts),
    ...{ week, by: formatLocalDate(by), levelLb, levelDeviationLb, roomLb, bags, levelBy, isEmpty },
    runsOut: { p10: formatLocalDate(p10), p50: dated(p50), p90: dated(p90) },
  };
}

function placeOf({ unitId, region, round, lbPerWeek }: DatedHouse | ByRate, facts: HouseFacts) {
  const { lastReported, visits, ...place } = facts;
  return {
    ...{ unitId, ...place, region, round, lbPerWeek },
    lastReported: dated(lastReported),
    visits: visits.map(viewOfVisit),
  };
}

function dated(day: LocalDate | null): string | null {
  return day === null ? null : formatLocalDate(day);
}
