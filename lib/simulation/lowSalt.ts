import type { LocalDate } from '../../shared/time/localDate.ts';
import { believedGallons } from '../unit/control.ts';
import type { UnitProfile } from './profile.ts';
import type { TruthLog } from './truthLog.ts';

/** What lasts for less is little: three weeks and a little, as nobody forecasts it to the day. */
const LOW_DAYS = 26;

/** Notes from when to when a tank holds little. */
export class LowSalt {
  readonly #truth: TruthLog;
  readonly #lowLb: number;
  #since: LocalDate | undefined;

  constructor(profile: UnitProfile, truth: TruthLog) {
    this.#truth = truth;
    const betweenGallons =
      believedGallons(profile.programmed) - (profile.alternating ? 0 : profile.typicalGallons);
    const lbADay =
      (profile.saltDoseLb * profile.typicalGallons) / Math.max(profile.typicalGallons, betweenGallons);
    this.#lowLb = LOW_DAYS * lbADay;
  }

  /** What is in the tank at the end of a day. */
  note(date: LocalDate, lb: number): void {
    if (lb <= this.#lowLb) this.#since ??= date;
    else this.end(date - 1);
  }

  /** @param to the last day on which it held little, null if it still does */
  end(to: LocalDate | null): void {
    if (this.#since !== undefined) this.#truth.saltLow(this.#since, to);
    this.#since = undefined;
  }
}
