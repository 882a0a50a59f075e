import type { LocalDate } from '../../shared/time/localDate.ts';
import { brineGallonsForDose } from '../softening/brine.ts';
import { compensatedHardnessGpg } from '../softening/iron.ts';
import { believedGallons, isDue, RESERVE_DAYS, reserveGallons } from '../unit/control.ts';
import { Bed, type Overrun } from './bed.ts';
import { type Condition, healthy } from './condition.ts';
import type { UnitProfile } from './profile.ts';
import { SaltTank } from './saltTank.ts';

/** What truly happened at a regeneration. */
export interface TrueRegeneration {
  readonly saltBeforeLb: number;
  /** Salt that it should have drawn as the brine control is truly set, lb: not always what is on record. */
  readonly doseLb: number;
  /** Salt that reached the bed. */
  readonly saltLb: number;
  readonly brineGallons: number;
  /** The control's count up to it. */
  readonly countedGallons: number;
  /** The overrun of the regenerated bed before it, if it ran over and this ended it. */
  readonly endedOverrun: Overrun | undefined;
}

/** One bed, or two that take turns, with control, meter and salt tank: the physics of a unit, without its telemetry. */
export class Softener {
  condition: Condition;
  readonly tank: SaltTank;
  readonly profile: UnitProfile;
  readonly #nextDoseLb: () => number;
  readonly #hardnessGpg: number;
  /** The first is in service. */
  readonly #beds: Bed[];
  #countedGallons: number;
  #countedToday = 0;
  #previousDays: number[] = [];

  /** @param nextDoseLb what the next regeneration truly takes of a tank that has it, lb; by default the dose on record */
  constructor(profile: UnitProfile, nextDoseLb: () => number = () => profile.saltDoseLb) {
    this.profile = profile;
    this.#nextDoseLb = nextDoseLb;
    this.condition = healthy(profile.programmed);
    this.tank = new SaltTank(profile.saltAtStartLb, profile);
    this.#hardnessGpg = compensatedHardnessGpg(profile);
    this.#beds = [new Bed(profile, profile.bedFactor, profile.usedAtStart)];
    if (profile.alternating) this.#beds.push(new Bed(profile, profile.bedFactor, 0));
    this.#countedGallons = profile.usedAtStart * believedGallons(profile.programmed);
  }

  /** Treats water as it is drawn, and counts what the meter registers of it. */
  treat(gallons: number, date: LocalDate): void {
    this.#beds[0]?.treat(gallons * this.#hardnessGpg, date);
    this.#countedGallons += gallons * this.condition.registered;
    this.#countedToday += gallons * this.condition.registered;
  }

  /** Closes a local day; returns its flow as the meter counted it, US gallons. */
  closeDay(): number {
    const counted = this.#countedToday;
    this.#previousDays = [...this.#previousDays, counted].slice(-RESERVE_DAYS);
    this.#countedToday = 0;
    return counted;
  }

  /** What the control believes is left, US gallons. */
  get leftGallons(): number {
    return believedGallons(this.condition.programmed) - this.#countedGallons;
  }

  /** Whether the control, asked now, should regenerate. */
  get isDue(): boolean {
    return isDue(this.leftGallons, this.profile.alternating ? 0 : reserveGallons(this.#previousDays));
  }

  /** Overruns that are going on. */
  get overruns(): Overrun[] {
    return this.#beds.flatMap(({ overrun }) => overrun ?? []);
  }

  /** Regenerates the bed in service, after the other has taken its place if there are two. */
  regenerate(): TrueRegeneration {
    const { brineDrawn, saltDissolves } = this.condition;
    const dose = this.#nextDoseLb();
    const saltBeforeLb = this.tank.lb;
    const saltLb = brineDrawn && saltDissolves ? this.tank.draw(dose) : 0;
    const countedGallons = this.#countedGallons;
    this.#countedGallons = 0;
    const bed = this.#beds.shift();
    const before = bed?.overrun;
    bed?.regenerate(saltLb);
    if (bed) this.#beds.push(bed);
    return {
      saltBeforeLb,
      doseLb: dose,
      saltLb,
      brineGallons: brineDrawn ? brineGallonsForDose(dose) : 0,
      countedGallons,
      endedOverrun: bed?.overrun ? undefined : before,
    };
  }
}
