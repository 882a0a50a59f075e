import { Chance, STREAM } from '../../../lib/simulation/chance.ts';
import type { UnitPlan } from '../../../lib/simulation/plan.ts';
import { UnitLife } from '../../../lib/simulation/unitLife.ts';
import { type Line, Untidiness } from '../../../lib/simulation/untidiness.ts';
import { recordOf } from '../../../lib/simulation/wire.ts';
import type { UnitRecord } from '../../../shared/registry.ts';
import type { Instant } from '../../../shared/time/instant.ts';

/** Share of the events that come late, twice, corrected, not at all, or beside a line that is none. */
const UNTIDY = 0.01;

/** One unit of the demonstration, as far as it has lived. */
export class DemoUnit {
  readonly record: UnitRecord;
  readonly #plan: UnitPlan;
  readonly #life: UnitLife;
  readonly #untidiness: Untidiness;
  #days = 0;
  /** What is on its way, by when it arrives. */
  #underway: Line[] = [];

  constructor(plan: UnitPlan) {
    this.record = recordOf(plan.profile);
    this.#plan = plan;
    this.#life = new UnitLife(plan);
    this.#untidiness = new Untidiness(UNTIDY, new Chance(plan.seed[0], STREAM.untidiness, plan.seed[1]));
  }

  /** Whether all of its days are over and all is told of them. */
  get isOver(): boolean {
    return this.#days === this.#plan.days && this.#underway.length === 0;
  }

  /** The lines that arrive up to an instant, after those taken before, in that order. */
  take(until: Instant): Line[] {
    const { start, days, profile } = this.#plan;
    const before = this.#days;
    while (this.#days < days && profile.zone.startOf(start + this.#days) <= until) {
      this.#underway.push(...this.#life.nextDay().flatMap((sent) => this.#untidiness.lines(sent)));
      this.#days += 1;
    }
    if (this.#days > before) this.#underway.sort((a, b) => a.recorded - b.recorded);
    const first = this.#underway.findIndex(({ recorded }) => recorded > until);
    return this.#underway.splice(0, first === -1 ? this.#underway.length : first);
  }
}
