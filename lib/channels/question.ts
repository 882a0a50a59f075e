import type { LocalDate } from '../../shared/time/localDate.ts';

/** What a household is asked when its meter registers nothing: whether it is away, or the meter has stalled. */
export interface Question {
  /** The company in whose name it is asked. */
  readonly companyName: string;
  /** The first local day on which nothing was registered. */
  readonly since: LocalDate;
  /** The page on which one tap answers; it bears its own proof. */
  readonly link: string;
}
