import { ChannelError } from '../errors.ts';

/** Time and chance, as they are or as a test has them. */
export interface Surroundings {
  readonly now: () => number;
  readonly pause: (milliseconds: number) => Promise<void>;
  /** From 0 up to 1. */
  readonly random: () => number;
}

const FIRST_MS = 200;
const LONGEST_MS = 2_000;

/**
 * Tries until it is done, fails for good, or time is up; between tries twice as long each time, half of it by chance,
 * and at least as long as the other side asks for.
 *
 * @param attempt is told how many milliseconds are left
 * @throws ChannelError the last one, at once where what it asks for is past the time
 */
export async function withRetries(
  attempt: (leftMs: number) => Promise<void>,
  withinMs: number,
  { now, pause, random }: Surroundings,
): Promise<void> {
  const end = now() + withinMs;
  for (let longest = FIRST_MS; ; longest = Math.min(2 * longest, LONGEST_MS)) {
    try {
      return await attempt(Math.max(0, end - now()));
    } catch (error) {
      if (!(error instanceof ChannelError) || error.permanent) throw error;
      const wait = Math.max(error.retryAfterMs ?? 0, (longest / 2) * (1 + random()));
      if (now() + wait >= end) throw error;
      await pause(wait);
    }
  }
}
