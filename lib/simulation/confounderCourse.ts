import type { AlertCause } from '../../shared/alerts.ts';
import type { Programmed } from '../../shared/registry.ts';
import type { Instant } from '../../shared/time/instant.ts';
import { type Condition, healthy } from './condition.ts';
import type { Happening } from './happening.ts';
import type { UnitPlan } from './plan.ts';
import type { UnitProfile } from './profile.ts';
import type { Softener } from './softener.ts';
import type { Telemetry } from './telemetry.ts';
import type { TruthLog } from './truthLog.ts';

const MINUTE = 60_000;
/** Local hours of what people do. Invented. */
const HOUR_OF = { visit: 11, byHand: 15, settingAgain: 18 } as const;
/** How long the power was away. */
const FAILURE_MINUTES = 150;
/** What a control believes in that has forgotten everything, and what its clock shows when power is back. Invented. */
const FACTORY = { hardnessGpg: 20, grainsPerCubicFoot: 20_000, regenerationHour: 2, clockHour: 12 } as const;

/** The unit that a course belongs to. */
export interface ConfoundedUnit {
  readonly plan: UnitPlan;
  readonly softener: Softener;
  readonly telemetry: Telemetry;
  readonly truth: TruthLog;
  readonly regenerateByHand: (time: Instant) => void;
  /** Makes the condition of the softener anew, after what is sound about it has changed. */
  readonly changed: () => void;
}

/** The course of what is harmless about a unit: what it does to the unit on which day, and what is told of it. */
export class ConfounderCourse {
  readonly #unit: ConfoundedUnit;
  readonly #programmed: { readonly own: Programmed; readonly factory: Programmed };
  #isMeterClean: boolean;
  #overrun: AlertCause;
  #lost: { readonly clockAheadHours: number; readonly untilDay: number } | undefined;

  constructor(unit: ConfoundedUnit) {
    this.#unit = unit;
    const { profile, confounders } = unit.plan;
    this.#programmed = { own: profile.programmed, factory: factorySettings(profile) };
    this.#isMeterClean = confounders.cleaned === undefined;
    this.#overrun = this.#isMeterClean ? 'reserve-short' : 'meter-fault';
  }

  /** The unit's condition but for its fault. */
  get sound(): Condition {
    const { cleaned } = this.#unit.plan.confounders;
    return {
      ...healthy(this.#lost ? this.#programmed.factory : this.#programmed.own),
      registered: this.#isMeterClean || !cleaned ? 1 : 1 / (1 + cleaned.gain),
      clockAheadHours: this.#lost?.clockAheadHours ?? 0,
    };
  }

  /** The cause of an overrun that no fault is behind: what was so until the last change, until the bed is regenerated. */
  get overrun(): AlertCause {
    return this.#overrun;
  }

  /** Notes that a bed begins anew. */
  regenerated(): void {
    if (this.#lost) this.#overrun = 'capacity-setting';
    else this.#overrun = this.#isMeterClean ? 'reserve-short' : 'meter-fault';
  }

  /** What happens on a day. While a fault is on, nobody comes for anything else, and no settings are lost. */
  on(day: number, isFaulty: boolean): Happening[] {
    const { plan, telemetry, truth, softener, regenerateByHand } = this.#unit;
    const { sticks, cleaned, byHand, moved, missing, settingsLost } = plan.confounders;
    const happenings: Happening[] = [];
    const at = (hour: number, happen: (time: Instant) => void) => happenings.push({ hour, happen });

    telemetry.sticks = sticks !== undefined && day >= sticks.first && day <= sticks.last;
    if (day === sticks?.first && plan.profile.senses.includes('salt-level')) {
      truth.confounder('level-sensor-sticks', sticks);
    }
    if (missing.has(day)) truth.confounder('day-missing', { first: day, last: day });
    if (byHand.has(day)) {
      at(HOUR_OF.byHand, (time) => {
        if (!softener.condition.regenerates) return;
        truth.confounder('regeneration-by-hand', { first: day, last: day });
        regenerateByHand(time);
      });
    }
    if (cleaned && day >= cleaned.day && !this.#isMeterClean && !isFaulty) {
      at(HOUR_OF.visit, (time) => {
        this.cleanMeter(day);
        telemetry.visit(time, { findings: [], work: ['meter cleaned'], saltAddedLb: 0 });
      });
    }
    if (day === moved?.day) {
      at(HOUR_OF.visit, (time) => {
        truth.confounder('moved', { first: day, last: plan.days - 1 });
        telemetry.visit(time, { findings: [], work: ['unit moved'], saltAddedLb: 0 });
        telemetry.settings(time, softener.condition);
      });
    }
    if (settingsLost && day === settingsLost.day && !isFaulty) {
      at(settingsLost.hour, (time) => this.#loseSettings(day, settingsLost, time));
    }
    if (this.#lost && day >= this.#lost.untilDay) at(HOUR_OF.settingAgain, (time) => this.#setAgain(time));
    return happenings;
  }

  /** Lets the meter register all that flows, if it did not. */
  cleanMeter(day: number): void {
    if (this.#isMeterClean) return;
    const { plan, truth, changed } = this.#unit;
    this.#isMeterClean = true;
    truth.confounder('meter-cleaned', { first: day, last: plan.days - 1 });
    changed();
  }

  #loseSettings(
    day: number,
    { hour, setAfterDays }: { hour: number; setAfterDays: number },
    time: Instant,
  ): void {
    const { plan, telemetry, truth, softener, changed } = this.#unit;
    const last = Math.min(plan.days - 1, day + setAfterDays);
    truth.confounder('settings-lost', { first: day, last });
    telemetry.power(time - FAILURE_MINUTES * MINUTE, FAILURE_MINUTES, false);
    if (setAfterDays === 0) {
      // Whoever sees the display blink sets it to what it was.
      telemetry.settings(time + 20 * MINUTE, softener.condition);
      return;
    }
    this.#lost = { clockAheadHours: FACTORY.clockHour - hour, untilDay: day + setAfterDays };
    this.#overrun = 'capacity-setting';
    changed();
  }

  #setAgain(time: Instant): void {
    const { telemetry, softener, changed } = this.#unit;
    this.#lost = undefined;
    changed();
    telemetry.settings(time, softener.condition);
  }
}

function factorySettings({ resinCubicFeet }: UnitProfile): Programmed {
  return {
    hardnessGpg: FACTORY.hardnessGpg,
    capacityGrains: FACTORY.grainsPerCubicFoot * resinCubicFeet,
    regenerationHour: FACTORY.regenerationHour,
  };
}
