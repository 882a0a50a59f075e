import type { Instant } from '../../shared/time/instant.ts';

/** Something that happens at a local hour of a day. */
export interface Happening {
  readonly hour: number;
  readonly happen: (time: Instant) => void;
}
