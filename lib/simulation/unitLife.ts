import type { Instant } from '../../shared/time/instant.ts';
import type { LocalDate } from '../../shared/time/localDate.ts';
import { shareBefore } from '../demand/dayShare.ts';
import { arrivalAt } from './arrival.ts';
import { Chance, STREAM } from './chance.ts';
import { ConfounderCourse } from './confounderCourse.ts';
import { FaultCourse } from './faultCourse.ts';
import type { Happening } from './happening.ts';
import { LeakFlow } from './leakFlow.ts';
import { instantAt, winterInstantAt } from './localTime.ts';
import { LowSalt } from './lowSalt.ts';
import { People } from './people.ts';
import type { UnitPlan } from './plan.ts';
import { Softener } from './softener.ts';
import { Telemetry } from './telemetry.ts';
import { trueDoses } from './trueDose.ts';
import type { Truth } from './truth.ts';
import { TruthLog } from './truthLog.ts';
import type { Sent } from './wire.ts';

const MINUTE = 60_000;
const HOUR = 60 * MINUTE;
/** Local hours of what a unit sends daily. Invented. */
const HOUR_OF = { levelReading: 6, settingsReport: 9 } as const;
/** How often a day; from common sense, no source. */
const A_DAY = { settingsReport: 1 / 150, powerFailure: 0.3 / 365 } as const;

/** Lives through the days of one unit: what truly happens, and what is sent of it. */
export class UnitLife {
  readonly softener: Softener;
  /** Salt that truly left the tank on each day so far, lb. */
  readonly drawnLb: number[] = [];
  readonly #plan: UnitPlan;
  readonly #chance: Chance;
  readonly #telemetry: Telemetry;
  readonly #truth: TruthLog;
  readonly #fault: FaultCourse;
  readonly #confounders: ConfounderCourse;
  readonly #lowSalt: LowSalt;
  readonly #people: People;
  #day = 0;
  #hour = 0;
  /** What is still to happen today. */
  #ahead: Happening[] = [];
  #leak = new LeakFlow();
  #regeneratedOn = 0;
  #isLimitTold = false;

  constructor(plan: UnitPlan) {
    this.#plan = plan;
    this.#chance = new Chance(plan.seed[0], STREAM.telemetry, plan.seed[1]);
    this.softener = new Softener(plan.profile, plan.trueDose && trueDoses(plan.trueDose, plan));
    this.#telemetry = new Telemetry(plan.profile, this.#chance, {
      isOpen: () => this.softener.condition.reports && !plan.confounders.missing.has(this.#day),
      arrival: (sent) => arrivalAt(plan, sent),
    });
    this.#truth = new TruthLog(plan);
    this.#lowSalt = new LowSalt(plan.profile, this.#truth);
    const unit = { plan, softener: this.softener, telemetry: this.#telemetry, truth: this.#truth };
    this.#confounders = new ConfounderCourse({
      ...unit,
      regenerateByHand: (time) => this.#regenerate(time, 'manual'),
      changed: () => this.#fault.renew(),
    });
    this.#fault = new FaultCourse({
      ...unit,
      confounders: this.#confounders,
      regenerateByHand: (time) => this.#regenerate(time + 40 * MINUTE, 'manual'),
    });
    this.#fault.renew();
    this.#people = new People({
      ...unit,
      fault: this.#fault,
      chance: this.#chance,
      regenerateByHand: (time) => this.#regenerate(time, 'manual'),
    });
  }

  /** Lives through the next day; returns what is sent of it. */
  nextDay(): Sent[] {
    const day = this.#day;
    const drawnBefore = this.softener.tank.drawnLb;
    this.#hour = 0;
    this.#leak = new LeakFlow();
    this.#ahead = this.#happenings();
    for (let next = this.#nextHappening(); next; next = this.#nextHappening()) {
      this.#drawUntil(next.hour);
      next.happen(this.#instantAt(next.hour));
    }
    this.#drawUntil(24);
    this.#fault.judge(day);
    const { use } = this.#plan;
    const counted = { gallons: this.softener.closeDay(), leakGallons: this.#leak.countedGallons };
    this.#telemetry.flowDay(this.#date, counted, this.softener.condition.registered, {
      reported: !use.unreported.has(day),
      leak: this.#leak,
      longDrawMinutes: use.longDraws?.get(day) ?? 0,
    });
    this.#lowSalt.note(this.#date, this.softener.tank.lb);
    this.drawnLb.push(this.softener.tank.drawnLb - drawnBefore);
    this.#day += 1;
    return this.#telemetry.take();
  }

  /** What is true of the unit, once its days are over. */
  truth(): Truth[] {
    for (const overrun of this.softener.overruns) {
      this.#truth.overrun(overrun, null, this.#confounders.overrun);
    }
    this.#lowSalt.end(null);
    return this.#truth.all();
  }

  get #date(): LocalDate {
    return this.#plan.start + this.#day;
  }

  #nextHappening(): Happening | undefined {
    this.#ahead.sort((a, b) => a.hour - b.hour);
    return this.#ahead.shift();
  }

  /** What happens today, in no order. */
  #happenings(): Happening[] {
    const chance = this.#chance;
    const day = this.#day;
    const telemetry = this.#telemetry;
    const happenings = [
      ...this.#fault.on(day),
      ...this.#confounders.on(day, this.#fault.isOn),
      ...this.#people.on(day),
      this.#control(),
    ];
    const at = (hour: number, happen: (time: Instant) => void) => happenings.push({ hour, happen });

    at(HOUR_OF.levelReading, (time) => telemetry.saltLevel(time, this.softener.tank.lb));
    if (day === 0 || chance.happens(A_DAY.settingsReport)) {
      at(HOUR_OF.settingsReport, (time) => {
        telemetry.settings(time, this.softener.condition);
        this.#fault.reported(day, time);
      });
    }
    if (chance.happens(A_DAY.powerFailure)) {
      at(chance.whole(0, 19), (time) => telemetry.power(time, chance.whole(3, 240)));
    }
    return happenings;
  }

  /** The control acts when its clock shows its hour, which is an hour later in summer where nobody sets the clock. */
  #control(): Happening {
    const { zone, followsSummerTime, startsLateMinutes } = this.#plan.profile;
    const atHour = followsSummerTime ? instantAt : winterInstantAt;
    const { clockAheadHours, programmed } = this.softener.condition;
    const hour = (programmed.regenerationHour - clockAheadHours + 48) % 24;
    const late = atHour(zone, this.#date, hour) + startsLateMinutes * MINUTE;
    // A clock that is fast or slow may act just before midnight what its own has as the next day.
    const time = zone.dateAt(late) > this.#date ? late - 24 * 60 * MINUTE : late;
    return {
      hour: zone.hourAt(time),
      happen: () => {
        const now = this.softener.condition;
        const isAsBefore =
          now.clockAheadHours === clockAheadHours &&
          now.programmed.regenerationHour === programmed.regenerationHour;
        if (isAsBefore) return this.#askControl(time);
        // Its clock was set or went wrong meanwhile: its hour may be over, or still to come.
        const again = this.#control();
        if (again.hour > this.#hour) this.#ahead.push(again);
      },
    };
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
      if (isOld && this.softener.condition.regenerates) this.#regenerateByCalendar(time);
      return;
    }
    if (!this.softener.condition.regenerates) this.#truth.shown(this.#date);
    else if (!this.#plan.profile.alternating) this.#regenerate(time, 'metered');
  }

  #regenerateByCalendar(time: Instant): void {
    if (!this.#isLimitTold) {
      this.#truth.confounder('calendar-limit', { first: this.#day, last: this.#plan.days - 1 });
    }
    this.#isLimitTold = true;
    this.#regenerate(time, 'override');
  }

  /** Draws the water of the day up to an hour. A pair of beds changes over the moment its count is used up. */
  #drawUntil(hour: number): void {
    const { use, profile } = this.#plan;
    const { leakGpm, registered } = this.softener.condition;
    const hours = hour - this.#hour;
    const leak = leakGpm * 60 * hours * this.#clockStretch();
    this.#leak.run(hours, leak, registered, leakGpm);
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

  /** How long an hour by the clock is on the average of today: a day has 23 or 25 when the clocks are changed. */
  #clockStretch(): number {
    const { zone } = this.#plan.profile;
    return (zone.startOf(this.#date + 1) - zone.startOf(this.#date)) / (24 * HOUR);
  }

  #regenerate(time: Instant, trigger: 'metered' | 'manual' | 'override' | 'unknown'): void {
    const regeneration = this.softener.regenerate();
    this.#regeneratedOn = this.#day;
    const { slowness, slowShare } = this.softener.condition;
    const isSlow = slowness > 1 && this.#chance.happens(slowShare);
    if (isSlow) this.#truth.shown(this.#date);
    if (trigger === 'metered') this.#fault.regenerated(this.#day, time);
    if (regeneration.saltLb < regeneration.doseLb) {
      this.#truth.shown(this.#date);
      this.#truth.short(this.#date, time, regeneration.saltLb);
    }
    if (regeneration.endedOverrun) {
      this.#truth.overrun(regeneration.endedOverrun, this.#date, this.#confounders.overrun);
    }
    this.#confounders.regenerated();
    this.#telemetry.regeneration(time, trigger, regeneration, isSlow ? slowness : 1);
  }

  #instantAt(hour: number): Instant {
    return instantAt(this.#plan.profile.zone, this.#date, hour);
  }
}
