import type { Instant } from '../../shared/time/instant.ts';
import type { LocalDate } from '../../shared/time/localDate.ts';
import { shareBefore } from '../demand/dayShare.ts';
import { believedGallons } from '../unit/control.ts';
import { Chance, STREAM } from './chance.ts';
import { CLEANED_GAIN, FaultCourse, type Happening } from './faultCourse.ts';
import { instantAt, winterInstantAt } from './localTime.ts';
import type { UnitPlan } from './plan.ts';
import { Softener } from './softener.ts';
import { BY_PEOPLE, Telemetry } from './telemetry.ts';
import { SHORTEST_ABSENCE_DAYS, type Truth } from './truth.ts';
import { TruthLog } from './truthLog.ts';
import type { Span } from './waterUse.ts';
import type { Sent } from './wire.ts';

const MINUTE = 60_000;
const DAY = 24 * 60 * MINUTE;
/** Local hours of what people do and of what a unit sends daily. Invented. */
const HOUR_OF = {
  levelReading: 6,
  settingsReport: 9,
  refill: 10,
  checkUp: 11,
  byHand: 15,
  word: 19,
} as const;
/** How often a day; from common sense, no source. */
const A_DAY = {
  settingsReport: 1 / 150,
  checkUp: 0.1 / 365,
  powerFailure: 0.3 / 365,
  stallNoticed: 0.02,
} as const;
/** Share of power failures after which the control has forgotten its settings. */
const SETTINGS_LOST = 0.1;
/** How often a household puts salt in while that mends nothing. */
const SALT_IN_VAIN_A_DAY = 0.02;
/** What lasts for less is little: three weeks and a little, as nobody forecasts it to the day. */
const LOW_DAYS = 26;
const ABSENCES_ANNOUNCED = 0.2;

/** Lives through the days of one unit: what truly happens, and what is sent of it. */
export class UnitLife {
  readonly softener: Softener;
  readonly #plan: UnitPlan;
  readonly #chance: Chance;
  readonly #telemetry: Telemetry;
  readonly #truth: TruthLog;
  readonly #fault: FaultCourse;
  readonly #announced: ReadonlyMap<number, Span>;
  #day = 0;
  #hour = 0;
  #regeneratedOn = 0;
  #lowSince: LocalDate | undefined;

  constructor(plan: UnitPlan) {
    this.#plan = plan;
    this.#chance = new Chance(plan.seed[0], STREAM.telemetry, plan.seed[1]);
    this.softener = new Softener(plan.profile);
    this.#telemetry = new Telemetry(plan.profile, this.#chance, (recorded) => this.#arrival(recorded));
    this.#truth = new TruthLog(plan);
    this.#fault = new FaultCourse({
      plan,
      softener: this.softener,
      telemetry: this.#telemetry,
      truth: this.#truth,
      regenerateByHand: (time) => this.#regenerate(time + 40 * MINUTE, 'manual'),
    });
    const announced = plan.use.absences.filter(
      ({ first, last }) =>
        last - first + 1 >= SHORTEST_ABSENCE_DAYS && this.#chance.happens(ABSENCES_ANNOUNCED),
    );
    // The evening before.
    this.#announced = new Map(announced.map((span) => [span.first - 1, span]));
  }

  /** Lives through the next day; returns what is sent of it. */
  nextDay(): Sent[] {
    const day = this.#day;
    this.#hour = 0;
    const { sticks } = this.#plan.confounders;
    this.#telemetry.sticks = sticks !== undefined && day >= sticks.first && day <= sticks.last;
    for (const { hour, happen } of this.#happenings().sort((a, b) => a.hour - b.hour)) {
      this.#drawUntil(hour);
      happen(this.#instantAt(hour));
    }
    this.#drawUntil(24);
    this.#fault.judge(day);
    const { registered, leakGpm, reports } = this.softener.condition;
    const reported = !this.#plan.use.unreported.has(day);
    const begins = this.#plan.fault?.begins;
    const longDrawMinutes = this.#plan.use.longDraws?.get(day) ?? 0;
    const leak = leakGpm > 0 ? { sinceHour: begins?.day === day ? begins.hour : 0, gpm: leakGpm } : undefined;
    this.#telemetry.flowDay(this.#date, this.softener.closeDay(), registered, {
      reported,
      leak,
      longDrawMinutes,
    });
    this.#noteSalt();
    this.#day += 1;
    const sent = this.#telemetry.take();
    return reports ? sent : sent.filter(({ event }) => BY_PEOPLE.has(event.type));
  }

  /** What is true of the unit, once its days are over. */
  truth(): Truth[] {
    for (const overrun of this.softener.overruns) this.#truth.overrun(overrun, null);
    if (this.#lowSince !== undefined) this.#truth.saltLow(this.#lowSince, null);
    return this.#truth.all();
  }

  get #date(): LocalDate {
    return this.#plan.start + this.#day;
  }

  /** What happens today, in no order. */
  #happenings(): Happening[] {
    const chance = this.#chance;
    const day = this.#day;
    const telemetry = this.#telemetry;
    const happenings = [...this.#fault.on(day), this.#control()];
    const at = (hour: number, happen: (time: Instant) => void) => happenings.push({ hour, happen });

    at(HOUR_OF.levelReading, (time) => telemetry.saltLevel(time, this.softener.tank.lb));
    at(HOUR_OF.refill, () => this.#lookAfterSalt());
    if (day === 0 || chance.happens(A_DAY.settingsReport)) {
      at(HOUR_OF.settingsReport, (time) => {
        telemetry.settings(time, this.softener.condition);
        this.#fault.reported(day, time);
      });
    }
    if (chance.happens(A_DAY.checkUp) && !this.#fault.isOn) {
      at(HOUR_OF.checkUp, (time) =>
        telemetry.visit(time, { findings: [], work: ['routine check'], saltAddedLb: 0 }),
      );
    }
    if (chance.happens(A_DAY.powerFailure)) {
      const kept = !chance.happens(SETTINGS_LOST);
      at(chance.whole(0, 19), (time) => {
        telemetry.power(time, chance.whole(3, 240), kept);
        // Whoever finds the display blinking sets it again, to what it was.
        if (!kept) telemetry.settings(time + 300 * MINUTE, this.softener.condition);
      });
    }
    const { byHand, cleanedOn, moved } = this.#plan.confounders;
    if (byHand.has(day)) at(HOUR_OF.byHand, (time) => this.#regenerate(time, 'manual'));
    if (day === cleanedOn && !this.#fault.isOn) {
      at(HOUR_OF.checkUp, (time) => {
        telemetry.peakGain *= CLEANED_GAIN;
        telemetry.visit(time, { findings: [], work: ['meter cleaned'], saltAddedLb: 0 });
      });
    }
    if (day === moved?.day) {
      at(HOUR_OF.checkUp, (time) => {
        telemetry.visit(time, { findings: [], work: ['unit moved to another home'], saltAddedLb: 0 });
        telemetry.settings(time, this.softener.condition);
      });
    }
    const { byHandADay } = this.softener.condition;
    if (byHandADay > 0 && chance.happens(byHandADay)) {
      at(chance.whole(9, 20), (time) => {
        this.#truth.shown(this.#date);
        this.#regenerate(time, 'manual');
      });
    }
    const absence = this.#announced.get(day);
    if (absence) at(HOUR_OF.word, (time) => this.#tell(time, 'away', absence));
    const stalled = this.softener.condition.registered === 0 && this.#fault.isTelling(day);
    if (stalled && chance.happens(A_DAY.stallNoticed)) {
      at(HOUR_OF.word, (time) => this.#tell(time, 'at-home', { first: day, last: day }));
    }
    return happenings;
  }

  /** The control acts when its clock shows its hour, which is an hour later in summer where nobody sets the clock. */
  #control(): Happening {
    const { zone, followsSummerTime, startsLateMinutes, programmed } = this.#plan.profile;
    const atHour = followsSummerTime ? instantAt : winterInstantAt;
    const { clockAheadHours } = this.softener.condition;
    const hour = (programmed.regenerationHour - clockAheadHours + 48) % 24;
    const late = atHour(zone, this.#date, hour) + startsLateMinutes * MINUTE;
    // A clock that is fast or slow may act just before midnight what its own has as the next day.
    const time = zone.dateAt(late) > this.#date ? late - 24 * 60 * MINUTE : late;
    return { hour: zone.hourAt(time), happen: () => this.#askControl(time) };
  }

  #askControl(time: Instant): void {
    const { repeatsEveryDays } = this.softener.condition;
    if (repeatsEveryDays > 0 && this.#day % repeatsEveryDays === 0) {
      if (!this.softener.isDue) this.#truth.shown(this.#date);
      this.#regenerate(time, this.#chance.happens(0.5) ? 'unknown' : 'metered');
      return;
    }
    const { calendarDays } = this.#plan.confounders;
    const isOld = calendarDays !== undefined && this.#day - this.#regeneratedOn >= calendarDays;
    if (!this.softener.isDue) {
      if (isOld && this.softener.condition.regenerates) this.#regenerate(time, 'override');
      return;
    }
    if (!this.softener.condition.regenerates) this.#truth.shown(this.#date);
    else if (!this.#plan.profile.alternating) this.#regenerate(time, 'metered');
  }

  /** Draws the water of the day up to an hour. A pair of beds changes over the moment its count is used up. */
  #drawUntil(hour: number): void {
    const { use, profile } = this.#plan;
    const leak = this.softener.condition.leakGpm * 60 * (hour - this.#hour);
    let gallons = (use.gallons[this.#day] ?? 0) * (shareBefore(hour) - shareBefore(this.#hour)) + leak;
    while (profile.alternating && this.softener.condition.regenerates) {
      const untilDue = Math.max(0, this.softener.leftGallons / this.softener.condition.registered);
      if (!(gallons >= untilDue)) break;
      this.softener.treat(untilDue, this.#date);
      this.#hour += (hour - this.#hour) * (gallons > 0 ? untilDue / gallons : 0);
      gallons -= untilDue;
      this.#regenerate(this.#instantAt(this.#hour), 'metered');
    }
    this.softener.treat(gallons, this.#date);
    this.#hour = hour;
  }

  #regenerate(time: Instant, trigger: 'metered' | 'manual' | 'override' | 'unknown'): void {
    const regeneration = this.softener.regenerate();
    this.#regeneratedOn = this.#day;
    const { slowness, slowShare } = this.softener.condition;
    const isSlow = slowness > 1 && this.#chance.happens(slowShare);
    if (isSlow) this.#truth.shown(this.#date);
    if (trigger === 'metered') this.#fault.regenerated(this.#day, time);
    if (regeneration.saltLb < this.#plan.profile.saltDoseLb) {
      this.#truth.shown(this.#date);
      this.#truth.short(this.#date, time, regeneration.saltLb);
    }
    if (regeneration.endedOverrun) this.#truth.overrun(regeneration.endedOverrun, this.#date);
    this.#telemetry.regeneration(time, trigger, regeneration, isSlow ? slowness : 1);
  }

  #lookAfterSalt(): void {
    const { tank, condition, profile } = this.softener;
    if (condition.refilled) tank.lookAfter(this.#day, profile.saltDoseLb, this.#chance);
    if (this.#fault.invitesSalt && this.#chance.happens(SALT_IN_VAIN_A_DAY))
      tank.add(this.#chance.whole(1, 2));
  }

  /** Notes from when to when the tank holds little. */
  #noteSalt(): void {
    const { tank, profile } = this.softener;
    const betweenGallons =
      believedGallons(profile.programmed) - (profile.alternating ? 0 : profile.typicalGallons);
    const lbADay =
      (profile.saltDoseLb * profile.typicalGallons) / Math.max(profile.typicalGallons, betweenGallons);
    const isLow = tank.lb <= LOW_DAYS * lbADay;
    if (isLow) this.#lowSince ??= this.#date;
    else if (this.#lowSince !== undefined) {
      this.#truth.saltLow(this.#lowSince, this.#date - 1);
      this.#lowSince = undefined;
    }
  }

  /** A gateway delivers what has come together; a carrier that is down delivers it when it is up again. */
  #arrival(recorded: Instant): Instant {
    const { outage, start, confounders, profile } = this.#plan;
    const batch = confounders.batchDays * DAY;
    const delivered = confounders.batchDays > 1 ? Math.ceil(recorded / batch) * batch : recorded;
    if (!outage) return delivered;
    const down = profile.zone.startOf(start + outage.first);
    const up = profile.zone.startOf(start + outage.last + 1);
    return delivered >= down && delivered < up ? up + Math.round((recorded - down) / 1000) : delivered;
  }

  #tell(time: Instant, who: 'away' | 'at-home', { first, last }: Span): void {
    this.#telemetry.presence(time, who, this.#plan.start + first, this.#plan.start + last);
  }

  #instantAt(hour: number): Instant {
    return instantAt(this.#plan.profile.zone, this.#date, hour);
  }
}
