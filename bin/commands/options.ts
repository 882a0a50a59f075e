import { availableParallelism } from 'node:os';
import { type Command, InvalidArgumentError } from 'commander';
import { type Instant, parseInstant } from '../../shared/time/instant.ts';
import { HELD_MEGABYTES } from '../replay/shuffle.ts';

const MOST_THREADS = 256;

/** What all that goes through a fleet's events is asked: up to when, and what may be spent on it. */
export interface PassOptions {
  until?: Instant;
  threads: number;
  /** Megabytes. */
  memory: number;
}

/** Gives a command the options of {@link PassOptions}. */
export function withPassOptions(command: Command): Command {
  return command
    .option(
      '--until <instant>',
      'end, RFC 3339 with an offset (default: when the last event became known)',
      toInstant,
    )
    .option('--threads <n>', `threads to work in; this machine has ${availableParallelism()}`, toThreads, 1)
    .option('--memory <mb>', 'facts to hold in memory before they go to disk', toMegabytes, HELD_MEGABYTES);
}

/** The same, as what goes through the events takes them. */
export function passOf({ until, threads, memory }: PassOptions) {
  return { until, threads, heldMegabytes: memory };
}

/** Reads the instant of an option. */
function toInstant(text: string): Instant {
  const instant = parseInstant(text);
  if (instant === undefined) {
    throw new InvalidArgumentError(
      'It is no RFC 3339 time with an offset, such as 2025-06-30T23:59:59-05:00.',
    );
  }
  return instant;
}

/** Reads a number of threads. */
function toThreads(text: string): number {
  const threads = Number(text);
  if (!/^\d+$/.test(text) || threads < 1 || threads > MOST_THREADS) {
    throw new InvalidArgumentError(`It is no whole number from 1 to ${MOST_THREADS}.`);
  }
  return threads;
}

/** Reads an amount of memory. */
function toMegabytes(text: string): number {
  const megabytes = Number(text);
  if (text.trim() === '' || !(megabytes >= 0))
    throw new InvalidArgumentError('It is no number of megabytes.');
  return megabytes;
}
