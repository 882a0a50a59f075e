import {
  ABSENCE_SPREAD,
  ABSENCES_A_YEAR,
  atLeastShare,
  TRICKLING_SHARE,
} from '../../lib/simulation/household.ts';
import type { UnitPlan } from '../../lib/simulation/plan.ts';
import type { UnitState } from '../../lib/unit/state.ts';
import type { LocalDate } from '../../shared/time/localDate.ts';

const DAYS_A_YEAR = 365;
/** A stall leaves the first 60 days alone and has the last 30 to show; see lib/simulation/plan.ts. */
const FIRST_STALL_DAY = 60;
const LAST_DAYS = 30;
/** Share of stalls that an absence goes before, and of those that dwindle; see lib/simulation/plan.ts. */
const DWINDLES = 0.3;

/**
 * The posterior of a stall for somebody who knows how the simulated fleet was made, though not what was drawn for this
 * home: how rates of absences are spread over homes, how long absences last, how often meters stall. Announced absences
 * are known to him as they are announced. That a meter dwindled he sees for certain.
 */
export class StallBound {
  readonly #hazard: number;
  readonly #days: number;
  readonly #start: LocalDate;
  readonly #fault: UnitPlan['fault'];
  #home = 0;
  #absences = 0;
  #length = 0;
  #trickles = false;

  constructor(share: number, { days, start, fault, use }: UnitPlan) {
    this.#hazard = share / (days - FIRST_STALL_DAY - LAST_DAYS + 1);
    this.#days = days;
    this.#start = start;
    this.#fault = fault;
    this.#trickles = use.absences.some(({ first }) => (use.gallons[first] ?? 0) > 0);
  }

  /** Takes in a day; returns the probability that the meter is stalled if the day lies in a run of zeros. */
  day(state: UnitState, date: LocalDate): number {
    const { run } = state.absence;
    const inRun = run !== null && run.to === date;
    if (!inRun) {
      if (this.#length > 0) this.#absences += 1;
      this.#length = 0;
      this.#home += 1;
      return 0;
    }
    this.#length = run.reportedDays;
    const since = run.from - this.#start;
    const shape = 1 / ABSENCE_SPREAD ** 2;
    const rate = (shape + this.#absences) / ((shape * DAYS_A_YEAR) / ABSENCES_A_YEAR + this.#home);
    const away =
      state.away !== null && state.away.from <= run.to && run.from <= state.away.to ? state.away : null;
    // An announced absence explains the run until it is over.
    if (away && date <= away.to + 1) return this.#hazard * this.#length;
    const absent = rate * atLeastShare(this.#length) * (this.#trickles ? 0 : 1 - TRICKLING_SHARE);
    const may = since >= FIRST_STALL_DAY && since <= this.#days - LAST_DAYS ? this.#hazard : 0;
    const dwindled =
      this.#fault !== undefined && this.#fault.dwindlingDays > 0 && since >= this.#fault.begins.day - 1;
    const before = dwindled ? Infinity : 1 - DWINDLES;
    const said = state.atHome !== null && state.atHome.to >= run.from && state.atHome.from <= run.to;
    if (said || (dwindled && may > 0)) return 1;
    return may === 0 ? 0 : (may * before) / (may * before + absent);
  }
}
