import { compareText } from '../../../shared/compareText.ts';
import type { LocalDate } from '../../../shared/time/localDate.ts';
import { normalProbability } from '../../demand/gamma.ts';
import type { Estimate } from '../../estimate/estimate.ts';
import { askedTotal, type MayAsk } from './askedTotal.ts';
import type { ByRate, Delivery, NoNeed, SaltNeed } from './delivery.ts';
import type { DeliveryRules } from './deliveryRules.ts';

/** So many weeks are planned. */
export const WEEKS = 4;
const WEEK_DAYS = 7;

/** A stretch of seven days; week 0 is all that is late already. */
export interface PlannedWeek {
  readonly week: number;
  /** Local days of the sites, both in it; `from` is null for what is late. */
  readonly from: LocalDate | null;
  readonly to: LocalDate;
}

/** What a week asks for on a round, in a region, or altogether. */
export interface WeekSum {
  readonly week: number;
  /** The units dated in it, the bags that they will take by the best guess, and those in lb. */
  readonly units: number;
  readonly bags: number;
  readonly lb: number;
  /** What units use in a week of whose tanks nothing is known, lb; nothing in week 0. */
  readonly byRateLb: number;
  /**
   * Bags that will be asked for, by houses with a date and without: a mean and 80 %. Houses come earlier or later than
   * dated now, as will be seen.
   */
  readonly askedBags: Estimate;
}

/** The houses of one round of one region. */
export interface RoundPlan {
  readonly region: string;
  /** Null for houses on no round. */
  readonly round: string | null;
  readonly weeks: readonly WeekSum[];
}

/** A dated unit in its week: a house with two softeners has one for each. */
export interface DatedHouse extends Delivery {
  readonly week: number;
}

/** Deliveries of the weeks to come. */
export interface DeliveryPlan {
  readonly weeks: readonly PlannedWeek[];
  /** By region, then round; those on no round come last. */
  readonly rounds: readonly RoundPlan[];
  readonly total: readonly WeekSum[];
  /** By the day of each; within a day by unit id. A route is not worked out. */
  readonly houses: readonly DatedHouse[];
  readonly byRate: readonly ByRate[];
  /** Units to which nothing need be brought, by reason; `later` are those dated after the last week. */
  readonly others: Readonly<Record<NoNeed | 'later', number>>;
}

/**
 * Plans deliveries from the needs of units. Weeks are blocks of seven days from today on, so that all are whole: each
 * has one Tuesday, and their sums compare. A house is in the week of its last safe day.
 *
 * @param today the earliest local day at any of the company's sites: all weeks are of local days, whatever the zone
 */
export function deliveryPlan(
  needs: readonly SaltNeed[],
  today: LocalDate,
  { bagLb }: Pick<DeliveryRules, 'bagLb'>,
): DeliveryPlan {
  const dated = needs.flatMap((need) => (need.is === 'dated' ? [need.delivery] : []));
  const byRate = needs.flatMap((need) => (need.is === 'by-rate' ? [need.byRate] : []));
  const sums = (houses: readonly Delivery[], rates: readonly ByRate[]) =>
    Array.from({ length: WEEKS + 1 }, (_, week) => weekSum(week, houses, rates, today, bagLb));
  const within = dated.filter(({ by }) => weekOf(by, today) <= WEEKS);
  return {
    weeks: Array.from({ length: WEEKS + 1 }, (_, week) => ({
      week,
      from: week === 0 ? null : today + WEEK_DAYS * (week - 1),
      to: today + WEEK_DAYS * week - 1,
    })),
    rounds: byRound(dated, byRate).map(({ region, round, houses, rates }) => ({
      region,
      round,
      weeks: sums(houses, rates),
    })),
    total: sums(dated, byRate),
    houses: within
      .map((house) => ({ ...house, week: weekOf(house.by, today) }))
      .sort((a, b) => a.by - b.by || compareText(a.unitId, b.unitId)),
    byRate: [...byRate].sort((a, b) => compareText(a.unitId, b.unitId)),
    others: { ...countedBy(needs), later: dated.length - within.length },
  };
}

/** The week that a day lies in: 0 before today, 1 from today on; above WEEKS after the last. */
function weekOf(date: LocalDate, today: LocalDate): number {
  return date < today ? 0 : 1 + Math.floor((date - today) / WEEK_DAYS);
}

function countedBy(needs: readonly SaltNeed[]): Record<NoNeed, number> {
  const counts = {
    ...{ 'set-up': 0, 'out-of-service': 0, 'nothing-reported': 0, 'never-regenerates': 0 },
    'beyond-a-year': 0,
  };
  for (const need of needs) if (need.is === 'none') counts[need.why] += 1;
  return counts;
}

interface OfRound {
  readonly region: string;
  readonly round: string | null;
  readonly houses: Delivery[];
  readonly rates: ByRate[];
}

function byRound(dated: readonly Delivery[], byRate: readonly ByRate[]): OfRound[] {
  const rounds = new Map<string, OfRound>();
  const of = ({ region, round }: { region: string; round: string | null }) => {
    // Ids have no space.
    const key = `${region} ${round ?? ''}`;
    const known = rounds.get(key) ?? { region, round, houses: [], rates: [] };
    rounds.set(key, known);
    return known;
  };
  for (const house of dated) of(house).houses.push(house);
  for (const rate of byRate) of(rate).rates.push(rate);
  return [...rounds.values()].sort(
    (a, b) =>
      compareText(a.region, b.region) ||
      Number(a.round === null) - Number(b.round === null) ||
      compareText(a.round ?? '', b.round ?? ''),
  );
}

function weekSum(
  week: number,
  houses: readonly Delivery[],
  rates: readonly ByRate[],
  today: LocalDate,
  bagLb: number,
): WeekSum {
  const inWeek = houses.filter(({ by }) => weekOf(by, today) === week);
  const bags = inWeek.reduce((sum, house) => sum + house.bags, 0);
  const asking = [
    ...houses.map((house) => ({ probability: askedIn(week, house, today), bagChances: house.bagChances })),
    ...(week === 0 ? [] : rates.map((rate) => rateAsks(rate, bagLb))),
  ];
  return {
    week,
    units: inWeek.length,
    bags,
    lb: bags * bagLb,
    byRateLb: week === 0 ? 0 : rates.reduce((sum, { lbPerWeek }) => sum + lbPerWeek, 0),
    askedBags: askedTotal(asking),
  };
}

/** The probability that a house will have to be served in a week, as will be seen then. What is late is so for certain. */
function askedIn(week: number, { by, asked }: Delivery, today: LocalDate): number {
  if (by < today || week === 0) return by < today && week === 0 ? 1 : 0;
  const before = (days: number) => {
    if (days <= 0) return 0;
    const off = today + days - 0.5 - asked.day;
    return asked.deviationDays > 0 ? normalProbability(off / asked.deviationDays) : Number(off > 0);
  };
  return before(WEEK_DAYS * week) - before(WEEK_DAYS * (week - 1));
}

/** A house of unknown level asks when its tank is all but empty: as often as it uses up what it takes then. */
function rateAsks({ lbPerWeek, bags }: ByRate, bagLb: number): MayAsk {
  const asks = lbPerWeek / (bags * bagLb);
  // One that uses more than that in a week takes it oftener.
  const times = Math.max(1, Math.ceil(asks));
  const taken = bags * times;
  return {
    probability: asks / times,
    bagChances: Array.from({ length: taken }, (_, index) => Number(index + 1 === taken)),
  };
}
