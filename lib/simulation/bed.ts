import type { LocalDate } from '../../shared/time/localDate.ts';
import { bedCapacityGrains } from '../softening/capacity.ts';

/** Water that a bed treated beyond what it could take, until a regeneration gave it capacity again. */
export interface Overrun {
  readonly since: LocalDate;
  /** Grains beyond capacity as a percentage of the bed's whole capacity. */
  readonly percent: number;
}

/** A resin bed as it truly is, in grains. */
export class Bed {
  readonly resinCubicFeet: number;
  readonly saltDoseLb: number;
  readonly factor: number;
  readonly capacityGrains: number;
  leftGrains: number;
  #overGrains = 0;
  #overSince: LocalDate | undefined;

  /**
   * @param bed resin, and the salt of a whole dose
   * @param factor true capacity over that of the capacity curve
   * @param used share of the capacity that is used up, 0 to 1
   */
  constructor(bed: { resinCubicFeet: number; saltDoseLb: number }, factor: number, used: number) {
    this.resinCubicFeet = bed.resinCubicFeet;
    this.saltDoseLb = bed.saltDoseLb;
    this.factor = factor;
    this.capacityGrains = factor * bedCapacityGrains(bed);
    this.leftGrains = (1 - used) * this.capacityGrains;
  }

  /** The overrun that is going on, if one is. */
  get overrun(): Overrun | undefined {
    if (this.#overSince === undefined) return undefined;
    return { since: this.#overSince, percent: (100 * this.#overGrains) / this.capacityGrains };
  }

  /** Treats water; what the bed can no longer take passes hard. */
  treat(grains: number, date: LocalDate): void {
    const taken = Math.min(grains, this.leftGrains);
    this.leftGrains -= taken;
    if (taken === grains) return;
    this.#overGrains += grains - taken;
    this.#overSince ??= date;
  }

  /** Gives the bed what a dose restores on top of what was left, never more than a whole dose. Ends an overrun. */
  regenerate(saltLb: number): void {
    if (saltLb <= 0) return;
    const { resinCubicFeet } = this;
    const restored = this.factor * bedCapacityGrains({ resinCubicFeet, saltDoseLb: saltLb });
    this.leftGrains = Math.min(this.capacityGrains, this.leftGrains + restored);
    this.#overGrains = 0;
    this.#overSince = undefined;
  }
}
