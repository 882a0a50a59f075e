import { InvalidArgumentError } from 'commander';
import { type Instant, parseInstant } from '../../shared/time/instant.ts';

const MOST_THREADS = 256;

/** Reads the instant of an option. */
export function toInstant(text: string): Instant {
  const instant = parseInstant(text);
  if (instant === undefined) {
    throw new InvalidArgumentError(
      'It is no RFC 3339 time with an offset, such as 2025-06-30T23:59:59-05:00.',
    );
  }
  return instant;
}

/** Reads a number of threads. */
export function toThreads(text: string): number {
  const threads = Number(text);
  if (!/^\d+$/.test(text) || threads < 1 || threads > MOST_THREADS) {
    throw new InvalidArgumentError(`It is no whole number from 1 to ${MOST_THREADS}.`);
  }
  return threads;
}

/** Reads an amount of memory. */
export function toMegabytes(text: string): number {
  const megabytes = Number(text);
  if (text.trim() === '' || !(megabytes >= 0))
    throw new InvalidArgumentError('It is no number of megabytes.');
  return megabytes;
}
