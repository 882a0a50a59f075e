import type { Instant } from '../../shared/time/instant.ts';
import { healthy } from './condition.ts';
import { faultNamed, spoilt } from './faults.ts';
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
  readonly regenerateByHand: (time: Instant) => void;
}

/** Something that happens at a local hour of a day. */
export interface Happening {
  readonly hour: number;
  readonly happen: (time: Instant) => void;
}

/** By the day on which it stalls, a sticking meter has come to miss about this share of the water. */
const DWINDLES_BY = 0.7;
/** Where use of less than this share of a typical day is not counted, nobody could tell. */
const TELLING_SHARE = 0.1;
/** A clock that is less than this off, in hours, tells nobody anything: it may be summer. */
const LEAST_HOURS_OFF = 1.9;
const HOUR = 3_600_000;
/** Peaks of a meter that was cleaned or replaced, over those before. Invented. */
export const CLEANED_GAIN = 1.1;
/** How long the power was away that put a clock wrong. */
const OUTAGE_MS = 2 * 3_600_000;

/** The course of the one fault of a unit, if it has any: it creeps in, breaks out, shows, and is mended. */
export class FaultCourse {
  readonly #unit: AffectedUnit;
  #phase: 'to come' | 'on' | 'over';

  constructor(unit: AffectedUnit) {
    this.#unit = unit;
    this.#phase = unit.plan.fault ? 'to come' : 'over';
  }

  get isOn(): boolean {
    return this.#phase === 'on';
  }

  /** What happens to the fault on a day. */
  on(day: number): Happening[] {
    const { fault } = this.#unit.plan;
    if (!fault || this.#phase === 'over') return [];
    if (this.isOn) {
      this.#goOn(day);
      return this.#isMendedOn(day) ? [{ hour: 13, happen: (time) => this.#mend(day, time) }] : [];
    }
    const { begins, dwindlingDays } = fault;
    const daysLeft = begins.day - day;
    if (daysLeft === 0) return [{ hour: begins.hour, happen: (time) => this.#breakOut(day, time) }];
    if (daysLeft <= dwindlingDays) this.#creepIn(daysLeft / (dwindlingDays + 1));
    return [];
  }

  /** Notes at the end of a day whether the fault has made a difference to it. */
  judge(day: number): void {
    const { plan, softener, truth } = this.#unit;
    if (!this.isOn || !plan.fault) return;
    const { name, begins } = plan.fault;
    const unseen = softener.condition.registered === 0 && this.isTelling(day);
    const misset = softener.condition.programmed !== plan.profile.programmed && softener.overruns.length > 0;
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
    const { plan, softener, truth } = this.#unit;
    if (!this.isOn || !plan.fault || faultNamed(plan.fault.name).showsBy !== 'regeneration') return;
    const { programmed } = softener.condition;
    // A pair of beds regenerates at any hour.
    const wrongHour = this.#isClockOff(time) && !plan.profile.alternating;
    if (wrongHour || programmed !== plan.profile.programmed) truth.shown(plan.start + day);
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

  #goOn(day: number): void {
    const { plan, softener } = this.#unit;
    const { fault, profile } = plan;
    if (!fault) return;
    const { clockAheadHours, registered } = spoilt(
      healthy(profile.programmed),
      fault,
      profile.typicalGallons,
      day - fault.begins.day,
    );
    softener.condition = { ...softener.condition, clockAheadHours, registered };
  }

  #creepIn(shareOfDaysLeft: number): void {
    const { softener } = this.#unit;
    softener.condition = { ...softener.condition, registered: 1 - DWINDLES_BY * (1 - shareOfDaysLeft) };
  }

  #breakOut(day: number, time: Instant): void {
    const { plan, softener, telemetry, truth } = this.#unit;
    if (!plan.fault) return;
    this.#phase = 'on';
    truth.begun(plan.start + day);
    softener.condition = spoilt(healthy(plan.profile.programmed), plan.fault, plan.profile.typicalGallons, 0);
    // A clock that is off at once was without power.
    if (softener.condition.clockAheadHours !== 0 && this.#isMisset(time))
      telemetry.power(time - OUTAGE_MS, OUTAGE_MS / 60_000);
    if (this.#reportIfMisset(time)) truth.shown(plan.start + day);
  }

  #isMendedOn(day: number): boolean {
    const { plan, truth } = this.#unit;
    const after = plan.fault?.mendedAfterDays;
    return truth.shownOn !== undefined && after !== undefined && plan.start + day >= truth.shownOn + after;
  }

  #mend(day: number, time: Instant): void {
    const { plan, softener, telemetry, truth, regenerateByHand } = this.#unit;
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
    // A turbine that was cleaned or replaced lets more through.
    if (softener.condition.registered < 1) telemetry.peakGain *= CLEANED_GAIN;
    softener.condition = healthy(plan.profile.programmed);
    if (wasMisset) telemetry.settings(time, softener.condition);
    if (!byHousehold) regenerateByHand(time);
  }

  #isMisset(time: Instant): boolean {
    const { plan, softener } = this.#unit;
    const { programmed, mode } = softener.condition;
    return programmed !== plan.profile.programmed || mode !== 'service' || this.#isClockOff(time);
  }

  /** Whether the clock is off beyond what summer makes of one that nobody sets. */
  #isClockOff(time: Instant): boolean {
    const { clockAheadHours } = this.#unit.softener.condition;
    if (clockAheadHours === 0) return false;
    const { zone, followsSummerTime } = this.#unit.plan.profile;
    const summer = followsSummerTime ? 0 : zone.offsetAt(time) - winterOffset(zone, zone.dateAt(time));
    return Math.abs(clockAheadHours - summer / HOUR) > LEAST_HOURS_OFF;
  }

  #reportIfMisset(time: Instant): boolean {
    const { plan, softener, telemetry } = this.#unit;
    if (!this.#isMisset(time)) return false;
    telemetry.settings(time, softener.condition);
    return plan.profile.reportsSettings;
  }
}
