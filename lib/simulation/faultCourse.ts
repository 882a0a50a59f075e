import type { Instant } from '../../shared/time/instant.ts';
import type { Condition } from './condition.ts';
import type { ConfounderCourse } from './confounderCourse.ts';
import { faultNamed, spoilt } from './faults.ts';
import type { Happening } from './happening.ts';
import { winterOffset } from './localTime.ts';
import type { UnitPlan } from './plan.ts';
import { BAG_LB } from './saltTank.ts';
import type { Softener } from './softener.ts';
import type { Telemetry } from './telemetry.ts';
import type { TruthLog } from './truthLog.ts';

/** The unit that a course belongs to. */
export interface AffectedUnit {
  readonly plan: UnitPlan;
  readonly softener: Softener;
  readonly telemetry: Telemetry;
  readonly truth: TruthLog;
  readonly confounders: ConfounderCourse;
  readonly regenerateByHand: (time: Instant) => void;
}

/** By the day on which it stalls, a sticking meter has come to miss about this share of the water. */
const DWINDLES_BY = 0.7;
/** Where use of less than this share of a typical day is not counted, nobody could tell. */
const TELLING_SHARE = 0.1;
/** A clock that is less than this off, in hours, tells nobody anything: it may be summer. */
const LEAST_HOURS_OFF = 1.9;
const MINUTE = 60_000;
const HOUR = 60 * MINUTE;
/** How long the power was away that put a clock wrong. */
const FAILURE_MINUTES = 120;

/** The course of the one fault of a unit, if it has any: it creeps in, breaks out, shows, and is mended. */
export class FaultCourse {
  readonly #unit: AffectedUnit;
  #phase: 'to come' | 'on' | 'over';
  #day = 0;

  constructor(unit: AffectedUnit) {
    this.#unit = unit;
    this.#phase = unit.plan.fault ? 'to come' : 'over';
  }

  get isOn(): boolean {
    return this.#phase === 'on';
  }

  /** What happens to the fault on a day. */
  on(day: number): Happening[] {
    this.#day = day;
    const { fault } = this.#unit.plan;
    if (!fault || this.#phase === 'over') return [];
    this.renew();
    if (this.isOn)
      return this.#isMendedOn(day) ? [{ hour: 13, happen: (time) => this.#mend(day, time) }] : [];
    const { begins } = fault;
    return begins.day === day ? [{ hour: begins.hour, happen: (time) => this.#breakOut(day, time) }] : [];
  }

  /** Makes the unit's condition anew of what is sound about it and what is not. */
  renew(): void {
    this.#unit.softener.condition = this.#conditionOn(this.#day);
  }

  /** Notes at the end of a day whether the fault has made a difference to it. */
  judge(day: number): void {
    const { plan, softener, truth } = this.#unit;
    if (!this.isOn || !plan.fault) return;
    const { name, begins } = plan.fault;
    // A day that is not reported tells nothing, but that it is missing.
    if (plan.use.unreported.has(day) && name !== 'silent') return;
    const unseen = softener.condition.registered === 0 && this.isTelling(day);
    const misset = this.#isMisprogrammed && softener.overruns.length > 0;
    // A day that began with the fault tells of it as a whole.
    const wholeDay = faultNamed(name).showsBy === 'day' && (day > begins.day || begins.hour === 0);
    if (unseen || misset || wholeDay) truth.shown(plan.start + day);
  }

  /** Whether so much was used on a day that a meter which counts none of it is found out. */
  isTelling(day: number): boolean {
    const { use, profile } = this.#unit.plan;
    return (use.gallons[day] ?? 0) > TELLING_SHARE * profile.typicalGallons;
  }

  /** What a regeneration of the control's own shows. */
  regenerated(day: number, time: Instant): void {
    const { plan, truth } = this.#unit;
    if (!this.isOn || !plan.fault || faultNamed(plan.fault.name).showsBy !== 'regeneration') return;
    // A pair of beds regenerates at any hour.
    const wrongHour = this.#isClockOff(time) && !plan.profile.alternating;
    if (wrongHour || this.#isMisprogrammed) truth.shown(plan.start + day);
  }

  /** What a report of the settings shows. */
  reported(day: number, time: Instant): void {
    const { plan, truth } = this.#unit;
    if (this.isOn && this.#isMisset(time) && plan.profile.reportsSettings) truth.shown(plan.start + day);
  }

  /** Whether somebody may put salt in although that mends nothing. */
  get invitesSalt(): boolean {
    const { brineDrawn, saltDissolves } = this.#unit.softener.condition;
    return !brineDrawn || !saltDissolves;
  }

  #conditionOn(day: number): Condition {
    const { plan, confounders } = this.#unit;
    const { fault, profile } = plan;
    const { sound } = confounders;
    if (!fault || this.#phase === 'over') return sound;
    const { begins, dwindlingDays } = fault;
    if (this.isOn) return spoilt(sound, fault, profile.typicalGallons, day - begins.day);
    const daysLeft = begins.day - day;
    if (daysLeft === 0 || daysLeft > dwindlingDays) return sound;
    const dwindled = DWINDLES_BY * (1 - daysLeft / (dwindlingDays + 1));
    return { ...sound, registered: sound.registered * (1 - dwindled) };
  }

  #breakOut(day: number, time: Instant): void {
    const { plan, softener, telemetry, truth } = this.#unit;
    if (!plan.fault) return;
    this.#phase = 'on';
    truth.begun(plan.start + day);
    this.renew();
    const { name, strength } = plan.fault;
    if (faultNamed(name).followsPowerFailure?.(strength)) {
      telemetry.power(time - FAILURE_MINUTES * MINUTE, FAILURE_MINUTES);
    }
    if (!this.#isMisset(time)) return;
    telemetry.settings(time, softener.condition);
    if (plan.profile.reportsSettings) truth.shown(plan.start + day);
  }

  #isMendedOn(day: number): boolean {
    const { plan, truth } = this.#unit;
    const after = plan.fault?.mendedAfterDays;
    return truth.shownOn !== undefined && after !== undefined && plan.start + day >= truth.shownOn + after;
  }

  #mend(day: number, time: Instant): void {
    const { plan, softener, telemetry, truth, confounders, regenerateByHand } = this.#unit;
    if (!plan.fault) return;
    const { name, strength } = plan.fault;
    const bags = name === 'tank-empty' ? Math.max(2, plan.profile.refillBags) : 0;
    this.#phase = 'over';
    truth.mended(plan.start + day);
    softener.tank.add(bags);
    // Half of the empty tanks are filled by the household itself.
    const byHousehold = name === 'tank-empty' && strength < 0.5;
    if (!byHousehold) {
      const { named, work } = faultNamed(name);
      const saltAddedLb = bags * BAG_LB;
      telemetry.visit(time, { findings: [named(strength).cause ?? name], work: [work], saltAddedLb });
    }
    const wasMisset = this.#isMisset(time);
    if (name === 'meter-stalled' || name === 'meter-obstructed') confounders.cleanMeter(day);
    this.renew();
    if (wasMisset) telemetry.settings(time, softener.condition);
    if (!byHousehold) regenerateByHand(time);
  }

  /** Whether the fault has put anything about the settings wrong that a report of them shows. */
  #isMisset(time: Instant): boolean {
    const { mode } = this.#unit.softener.condition;
    return this.#isMisprogrammed || mode !== 'service' || this.#isClockOff(time);
  }

  get #isMisprogrammed(): boolean {
    const { softener, confounders } = this.#unit;
    return softener.condition.programmed !== confounders.sound.programmed;
  }

  /** Whether the fault has put the clock off beyond what summer makes of one that nobody sets. */
  #isClockOff(time: Instant): boolean {
    const { plan, softener, confounders } = this.#unit;
    const aheadHours = softener.condition.clockAheadHours - confounders.sound.clockAheadHours;
    if (aheadHours === 0) return false;
    const { zone, followsSummerTime } = plan.profile;
    const summer = followsSummerTime ? 0 : zone.offsetAt(time) - winterOffset(zone, zone.dateAt(time));
    return Math.abs(aheadHours - summer / HOUR) > LEAST_HOURS_OFF;
  }
}
