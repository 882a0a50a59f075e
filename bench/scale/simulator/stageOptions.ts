import type { Chance } from '../../../lib/simulation/chance.ts';
import type { Bucket } from './bucket.ts';
import type { Environment } from './lambda.ts';

/** What a batch uses of something that is limited a second. */
export interface Need {
  readonly bucket: Bucket;
  /** How much of it so many messages take. */
  amount(messages: number, environment: Environment): number;
}

/** A queue with the function that hangs on it. Times in seconds. */
export interface StageOptions {
  readonly name: string;
  readonly batchSize: number;
  /** How long a batch that is not full is waited for. */
  readonly windowSeconds: number;
  readonly visibilitySeconds: number;
  readonly maxReceives: number;
  /** Batches at the same time: at first, how many more each second while messages wait, and at most. */
  readonly pollers: { readonly atFirst: number; readonly aSecond: number; readonly most: number };
  /** Messages that may be handed out and not done at the same time. */
  readonly inFlightMost: number;
  /** What a new environment takes before it begins. */
  readonly coldSeconds: number;
  /** How long a batch takes, without waiting for what is limited. */
  seconds(messages: number, chance: Chance): number;
  readonly needs: readonly Need[];
  /** Waits before what was turned away is asked for again, in turn; then the message fails and comes back. */
  readonly retrySeconds: readonly number[];
}
