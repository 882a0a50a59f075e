import type { Chance } from './chance.ts';

/** A bag of salt, lb. */
export const BAG_LB = 40;

/** The salt tank and the household that refills it. Pounds. */
export class SaltTank {
  lb: number;
  addedLb = 0;
  drawnLb = 0;
  readonly #belowLb: number;
  readonly #bags: number;
  #refillOn: number | undefined;

  /** @param habits below which level, and with how many 40-lb bags, the household refills */
  constructor(lb: number, habits: { refillBelowLb: number; refillBags: number }) {
    this.lb = lb;
    this.#belowLb = habits.refillBelowLb;
    this.#bags = habits.refillBags;
  }

  /** Takes out a dose, or what is left of one. Returns what was taken. */
  draw(doseLb: number): number {
    const drawn = Math.min(doseLb, this.lb);
    this.lb -= drawn;
    this.drawnLb += drawn;
    return drawn;
  }

  add(bags: number): void {
    this.lb += bags * BAG_LB;
    this.addedLb += bags * BAG_LB;
  }

  /**
   * Lets the household look after the salt on one day: it refills some days after the level fell below its mark,
   * now and then weeks after, but before the next dose fails.
   */
  lookAfter(day: number, doseLb: number, chance: Chance): void {
    if (this.lb >= this.#belowLb && this.lb >= 2 * doseLb) return;
    this.#refillOn ??= day + (chance.happens(0.8) ? chance.whole(0, 4) : chance.whole(5, 25));
    if (day < this.#refillOn && this.lb >= 2 * doseLb) return;
    this.add(Math.max(this.#bags, Math.ceil((2 * doseLb) / BAG_LB)));
    this.#refillOn = undefined;
  }
}
