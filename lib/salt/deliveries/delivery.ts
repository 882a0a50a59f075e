import type { LocalDate } from '../../../shared/time/localDate.ts';

/** A house that salt should be brought to. */
export interface Delivery {
  readonly unitId: string;
  readonly region: string;
  /** The round that the site is on; null where none is recorded. */
  readonly round: string | null;
  /** The last local day on which a delivery still comes in time with 90 %: the day before salt runs out at the earliest. */
  readonly by: LocalDate;
  /** The local days by which it has run out with 10, 50 and 90 %; null beyond a year. */
  readonly runsOut: {
    readonly p10: LocalDate;
    readonly p50: LocalDate | null;
    readonly p90: LocalDate | null;
  };
  /** Salt in the tank now, lb, and its standard deviation. */
  readonly levelLb: number;
  readonly levelDeviationLb: number;
  /** What the tank will take by then, lb; null where its size is not on record. */
  readonly roomLb: number | null;
}
