import type { Batches, Drivers } from './drivers.ts';
import type { Measured } from './measured.ts';
import { run, type StageOutcome } from './run.ts';
import { billed } from './scenarios.ts';

/** How full batches are and how long they take in a fleet of a size: from a simulated midnight and noon. */
export function batchesOf(measured: Measured, meters: number): Drivers['batches'] {
  const midnight = run(measured, billed(meters, 'facts'));
  const noon = run(measured, billed(meters, 'noon'));
  return {
    ingest: batches(midnight.stages.ingest),
    assess: batches(midnight.stages.assess),
    noon: batches(noon.stages.assess),
    notify: batches(midnight.stages.notify),
  };
}

function batches({ messages, invocations, busySeconds }: StageOutcome): Batches {
  // A fleet so small that nothing is to be told in a night tells of one unit at a time.
  if (invocations === 0) return { messages: 1, seconds: 0.2 };
  return { messages: messages / invocations, seconds: busySeconds / invocations };
}
