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
  /** How the level is known. Of a sensor that sticks only what was read before tells, less the doses since. */
  readonly levelBy: 'sensor' | 'stuck-sensor' | 'balance';
  /** Whether regenerations find no salt already. */
  readonly isEmpty: boolean;
  /** Salt that it uses, lb a week. */
  readonly lbPerWeek: number;
  /** Whole bags that will fit then, at least one: what is over stands beside the tank. */
  readonly bags: number;
  /** How likely it takes each number of bags, from one on. */
  readonly bagChances: readonly number[];
  /** When it will have to be brought as will be seen then: mean local day, and standard deviation in days. */
  readonly asked: { readonly day: number; readonly deviationDays: number };
}

/** A house that uses salt, of whose tank nothing is known: it is in the sums by its rate, and has no date. */
export interface ByRate {
  readonly unitId: string;
  readonly region: string;
  readonly round: string | null;
  readonly lbPerWeek: number;
  /** Whole bags that it takes when its tank is all but empty. */
  readonly bags: number;
  readonly why: 'no-sensor' | 'not-read' | 'long-silent';
}

/** Why nothing need be brought to a unit that can be told of: the control is not in service or never regenerates, or the salt lasts. */
export type NoNeed = 'set-up' | 'out-of-service' | 'nothing-reported' | 'never-regenerates' | 'beyond-a-year';

/** What is known of the salt that a unit will need. */
export type SaltNeed =
  | { readonly is: 'dated'; readonly delivery: Delivery }
  | { readonly is: 'by-rate'; readonly byRate: ByRate }
  | { readonly is: 'none'; readonly why: NoNeed };
