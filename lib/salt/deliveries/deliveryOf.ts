import type { Unit } from '../../../shared/registry.ts';
import type { Instant } from '../../../shared/time/instant.ts';
import type { LocalDate } from '../../../shared/time/localDate.ts';
import { type Household, skip } from '../../demand/household.ts';
import { runOutDays, type SaltAhead } from '../../demand/saltRunOut.ts';
import { useAhead } from '../../demand/useAhead.ts';
import { Z_OF_80_PERCENT } from '../../estimate/interval.ts';
import type { UnitState } from '../../unit/state.ts';
import type { Rules } from '../../watch/rules.ts';
import { saltOf, type TankKnown } from '../../watch/saltLow.ts';
import { bagChances, bagsFor } from './bags.ts';
import type { ByRate, Delivery, NoNeed, SaltNeed } from './delivery.ts';
import type { DeliveryRules } from './deliveryRules.ts';

/** What is known of a tank, and how. */
type Level = TankKnown & Pick<Delivery, 'levelBy'>;

/** What a forecast starts from: the end of the last day counted. */
interface Start {
  readonly unit: Unit;
  readonly state: UnitState;
  readonly household: Household;
  readonly asOf: LocalDate;
  /** The local day at the site now. */
  readonly today: LocalDate;
}

/** The rules that deliveries go by. */
export type DeliveryUsed = Pick<Rules, 'salt-low' | 'deliveries'>;

/** Over so many days a rate is taken. */
const RATE_DAYS = 28;
/** From here on it is rather so than not. */
const RATHER = 0.5;

/**
 * What salt a unit will need, and when, as far as can be told at an instant. Never from nothing: where the level is not
 * known it is a rate without a date. The registry does not say which salt a tank holds; pounds and bags are of either.
 */
export function deliveryOf(unit: Unit, state: UnitState, rules: DeliveryUsed, at: Instant): SaltNeed {
  if (state.lastDate === null) return none('nothing-reported');
  if (!state.inService) return none('set-up');
  const start = startOf(unit, state, state.lastDate, at);
  const level = levelOf(unit, state, rules.deliveries);
  const tank = level ?? { lb: 0, variance: 0, gallons: state.count.gallons };
  const salt = saltOf(unit, state, tank, start.asOf, rules['salt-low']);
  if (salt === null) return none('never-regenerates');
  const lbPerWeek = weeklyLb(start, salt);
  if (level === null)
    return byRate(unit, lbPerWeek, salt.doseLb, rules.deliveries, hasSensor(unit) ? 'not-read' : 'no-sensor');
  if (start.today - start.asOf > rules.deliveries.longSilentDays)
    return byRate(unit, lbPerWeek, salt.doseLb, rules.deliveries, 'long-silent');
  return dated(start, level, salt, lbPerWeek, rules.deliveries);
}

/** A unit from whose days to come nothing need be brought. */
function none(why: NoNeed): SaltNeed {
  return { is: 'none', why };
}

/** Where levels were read on days without a flow day, the forecast begins with the last of them. */
function startOf(unit: Unit, state: UnitState, lastDate: LocalDate, at: Instant): Start {
  const { readAt } = state.memories.saltUse;
  const asOf = Math.max(lastDate, readAt === null ? lastDate : unit.zone.dateAt(readAt) - 1);
  let { household } = state;
  for (let date = lastDate + 1; date <= asOf; date++) household = skip(household, date);
  return { unit, state, household, asOf, today: unit.zone.dateAt(at) };
}

function hasSensor({ senses }: Unit): boolean {
  return senses.includes('salt-level');
}

/** The salt in the tank by its sensor, or by the balance of what was brought and drawn; null where neither tells. */
function levelOf(unit: Unit, state: UnitState, { doseError }: DeliveryRules): Level | null {
  const { saltUse, saltBalance } = state.memories;
  if (saltUse.lb !== null) {
    const { lb, variance, gallons, stuck } = saltUse;
    return { lb, variance, gallons, levelBy: stuck ? 'stuck-sensor' : 'sensor' };
  }
  if (!saltBalance || hasSensor(unit)) return null;
  const { lowLb, highLb, drawnLb } = saltBalance;
  const high = Math.max(highLb, lowLb);
  // Anywhere between the bounds, as far as is known.
  const variance = (high - lowLb) ** 2 / 12 + (doseError * drawnLb) ** 2;
  const lb = Math.max(0, (lowLb + high) / 2);
  return { lb, variance: Math.max(variance, 1), gallons: state.count.gallons, levelBy: 'balance' };
}

/** Salt that a unit uses, lb a week, over the weeks to come. */
function weeklyLb({ household, asOf }: Start, { doseLb, pace, cycleGallons }: SaltAhead): number {
  return (doseLb * pace * (useAhead(household, asOf).mean(RATE_DAYS) / RATE_DAYS) * 7) / cycleGallons;
}

function byRate(
  { unitId, region, round, saltTankLb }: Unit,
  lbPerWeek: number,
  doseLb: number,
  { bagLb, bagsUnknownTank }: DeliveryRules,
  why: ByRate['why'],
): SaltNeed {
  // Whoever asks has a dose or so left.
  const bags = saltTankLb === undefined ? bagsUnknownTank : bagsFor(saltTankLb - doseLb, bagLb);
  return { is: 'by-rate', byRate: { unitId, region, round: round ?? null, lbPerWeek, bags, why } };
}

function dated(
  start: Start,
  { lb, variance, levelBy }: Level,
  salt: SaltAhead,
  lbPerWeek: number,
  rules: DeliveryRules,
): SaltNeed {
  const { unit, state, household, asOf, today } = start;
  const { p10, p50, p90 } = runOutDays(household, asOf, salt);
  if (p10 === null) return none('beyond-a-year');
  const isEmpty = state.draw.belief.empty >= RATHER && lb < salt.doseLb;
  const inTime = asOf + p10 - 1;
  const by = isEmpty ? Math.min(inTime, today - 1) : inTime;
  const dateOf = (days: number | null) => (days === null ? null : asOf + days);
  const room = roomAt(start, salt, Math.max(by, today));
  return {
    is: 'dated',
    delivery: {
      unitId: unit.unitId,
      region: unit.region,
      round: unit.round ?? null,
      by,
      runsOut: { p10: asOf + p10, p50: dateOf(p50), p90: dateOf(p90) },
      levelLb: lb,
      levelDeviationLb: Math.sqrt(variance),
      roomLb: room?.roomLb ?? null,
      levelBy,
      isEmpty,
      lbPerWeek,
      bags: room ? bagsFor(room.roomLb, rules.bagLb) : rules.bagsUnknownTank,
      bagChances: room ? bagChances(room, rules.bagLb) : exactly(rules.bagsUnknownTank),
      asked: askedOn(by, { p10, p50, p90 }, salt, lbPerWeek),
    },
  };
}

function exactly(bags: number): number[] {
  return Array.from({ length: bags }, (_, index) => (index + 1 === bags ? 1 : 0));
}

/** What the tank will take on a day, lb, and how well that is known; undefined where its size is not on record. */
function roomAt({ unit, household, asOf }: Start, salt: SaltAhead, date: LocalDate) {
  const tankLb = unit.saltTankLb;
  if (tankLb === undefined) return undefined;
  const ahead = useAhead(household, asOf);
  const days = Math.max(0, date - asOf);
  const used = salt.pace * ahead.mean(days);
  const over = used - salt.untilNextGallons;
  const doses = over < 0 ? 0 : 1 + Math.floor(over / salt.cycleGallons);
  const levelLb = Math.max(0, salt.lb - doses * salt.doseLb);
  // A dose more or less, as the days go, beside what is not known now.
  const spread = (salt.pace * ahead.deviation(days)) / salt.cycleGallons;
  const dosesVariance = days === 0 ? 0 : spread ** 2 + 1 / 12 + doses * salt.doseSpread ** 2;
  const deviationLb = Math.sqrt(salt.deviationLb ** 2 + dosesVariance * salt.doseLb ** 2);
  return { roomLb: Math.min(tankLb, Math.max(0, tankLb - levelLb)), deviationLb, tankLb };
}

/**
 * When salt will have to be brought as will be seen nearer to it. The days until then tell how fast it goes, so what is
 * uncertain now shrinks to what never settles: a sensor's noise, and how doses differ. The earliest day moves back by as
 * much as the spread shrinks, and may lie either side of that.
 */
function askedOn(
  by: LocalDate,
  { p10, p50, p90 }: { p10: number; p50: number | null; p90: number | null },
  { deviationLb, doseLb, doseSpread }: SaltAhead,
  lbPerWeek: number,
): Delivery['asked'] {
  const apart = p90 === null ? 2 * ((p50 ?? 2 * p10) - p10) : p90 - p10;
  const now = apart / (2 * Z_OF_80_PERCENT);
  const then = Math.min(now, (Math.hypot(deviationLb, doseSpread * doseLb) * 7) / lbPerWeek);
  return { day: by + Z_OF_80_PERCENT * (now - then), deviationDays: Math.sqrt(now ** 2 - then ** 2) };
}
