import type { FleetSize } from './alarmSpec.ts';

/** How often an API lets itself be asked. */
export interface Throttle {
  /** Requests a second, over a while. */
  readonly rate: number;
  /** Requests at once. */
  readonly burst: number;
}

/** What differs between a small company and a large fleet. Numbers are guesses, no source, unless they name one. */
export interface Stage {
  readonly name: FleetSize;
  /** How long logs are kept, days; one of the numbers that Amazon CloudWatch Logs knows. */
  readonly logDays: 30 | 90;
  /** How far back the table can be restored, days: 1 to 35 (DynamoDB Developer Guide, point-in-time recovery). */
  readonly restoreDays: number;
  /** How long files are kept that were put again or dropped, days. */
  readonly oldFileDays: number;
  /** Memory of a function, MB; it has CPU in proportion. */
  readonly memoryMb: number;
  /** Batches of one queue at a time: 2 to 1,000 (CloudFormation, event source mapping's `ScalingConfig`). */
  readonly batchesAtOnce: number;
  /**
   * Ranges of units of a trial at a time. A new account may have ten places for all functions (from memory, unverified):
   * a trial is not to take those of people and meters.
   */
  readonly trialRangesAtOnce: number;
  /**
   * Places kept for functions in the account's concurrency, and no more for them. None for a small company: a new account
   * has few, and keeps 100 free for all.
   */
  readonly reserved: Readonly<Record<string, number>>;
  readonly people: Throttle;
  readonly machines: Throttle;
  /** Most that one query of the archive may read, bytes. */
  readonly queryBytes: number;
}

const GB = 1_000_000_000;

/** By the name that `--context stage=` gives. */
export const STAGES: Readonly<Record<FleetSize, Stage>> = {
  small: {
    name: 'small',
    logDays: 30,
    restoreDays: 7,
    oldFileDays: 30,
    memoryMb: 512,
    batchesAtOnce: 2,
    trialRangesAtOnce: 2,
    reserved: {},
    people: { rate: 20, burst: 50 },
    machines: { rate: 20, burst: 50 },
    queryBytes: 10 * GB,
  },
  large: {
    name: 'large',
    logDays: 90,
    restoreDays: 35,
    oldFileDays: 90,
    memoryMb: 1024,
    batchesAtOnce: 200,
    trialRangesAtOnce: 100,
    reserved: { api: 200, sweep: 2, report: 1 },
    people: { rate: 500, burst: 1000 },
    machines: { rate: 1000, burst: 2000 },
    queryBytes: 1000 * GB,
  },
};
