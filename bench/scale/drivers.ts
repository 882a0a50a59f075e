import { ASSUMED } from './limits.ts';

/** How full batches are and how long they take, as a simulated day has them. */
export interface Batches {
  /** Messages an invocation. */
  readonly messages: number;
  /** Seconds an invocation. */
  readonly seconds: number;
}

/** What a month's use depends on, beside what was measured. Numbers are guesses, no source, unless they say otherwise. */
export interface Drivers {
  readonly meters: number;
  readonly companies: number;
  readonly regionsACompany: number;
  readonly memoryMb: number;
  /** Minutes a day that a meter is connected; 1,440 where it stays so. Minutes are counted whole. */
  readonly connectedMinutes: number;
  /** Connections a day. */
  readonly connects: number;
  readonly openShare: number;
  readonly transitionsAUnitDay: number;
  /** Mails a change of an alert. */
  readonly mailsATransition: number;
  /** Households that are asked by text message, a unit-year: README, "needless questions" and stalls together, rounded up. */
  readonly questionsAUnitYear: number;
  /** Share of the questions that go by text message and not by mail. */
  readonly smsShare: number;
  /** Years of history that the table and the archive hold. */
  readonly years: number;
  readonly people: number;
  readonly requestsAPersonDay: number;
  /** Share of the functions' invocations that are traced: the default rule of AWS X-Ray, from memory, unverified. */
  readonly traced: number;
  /** Messages that an archive batch holds, and files for each: company, region and month make a file. */
  readonly archiveBatch: number;
  readonly trialsAMonth: number;
  readonly batches: Readonly<Record<'ingest' | 'assess' | 'noon' | 'notify', Batches>>;
}

/** A fleet of a size, with guesses for all that was not measured. */
export function driversOf(meters: number, batches: Drivers['batches']): Drivers {
  return {
    meters,
    companies: Math.max(1, Math.round(meters / 5_000)),
    regionsACompany: 4,
    memoryMb: 1024,
    connectedMinutes: 2,
    connects: 2,
    openShare: 0.05,
    transitionsAUnitDay: ASSUMED.transitionsAUnitDay,
    mailsATransition: 1,
    questionsAUnitYear: 0.2,
    smsShare: 0.5,
    years: 1,
    people: Math.max(3, Math.round(meters / 500)),
    requestsAPersonDay: 200,
    traced: 0.05,
    archiveBatch: 1_000,
    trialsAMonth: 1,
    batches,
  };
}
