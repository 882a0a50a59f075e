import { join } from 'node:path';
import { workerData } from 'node:worker_threads';
import type { TrialOptions } from '../../lib/trial/tryRules.ts';
import { readRegistry } from '../../shared/registry.ts';
import { admitBlock } from './admitBlock.ts';
import type { Chunk } from './chunk.ts';
import { fleetOf } from './fleet.ts';
import { type Folded, type FoldOptions, foldUnits } from './foldUnits.ts';
import { RejectionLog, type RejectionPart } from './rejections.ts';
import { receivedIn, Shuffle, type UnitRange } from './shuffle.ts';
import { type Tried, tryUnits } from './tryUnits.ts';

/** What each worker is given once. */
export interface WorkerSetup {
  /** The registry's text; its units hold a time zone each and cannot be sent. */
  registry: string;
  /** The folder for files that pass with the run. */
  folder: string;
}

export type Task =
  | { bytes: Uint8Array<ArrayBuffer>; firstLine: number }
  | { range: UnitRange; options: FoldOptions }
  | { range: UnitRange; trial: TrialOptions };

/** What became of a block. */
export interface AdmittedBlock {
  read: number;
  chunk: Chunk;
  lastKnown: Float64Array;
  /** Undefined if nothing was rejected. */
  rejected: RejectionPart | undefined;
}

const setup: WorkerSetup = workerData;
const fleet = fleetOf(readRegistry(setup.registry));

/** Does one task in a thread of its own, by the same functions as it is done without threads. */
export default function work(task: Task): AdmittedBlock | Folded | Tried {
  if ('range' in task) {
    const units = fleet.units.slice(task.range.first, task.range.end);
    const received = receivedIn(task.range, fleet.units);
    return 'trial' in task ? tryUnits(units, received, task.trial) : foldUnits(units, received, task.options);
  }
  return admitted(Buffer.from(task.bytes.buffer, task.bytes.byteOffset, task.bytes.length), task.firstLine);
}

function admitted(bytes: Buffer<ArrayBuffer>, firstLine: number): AdmittedBlock {
  const shuffle = new Shuffle(
    fleet.units,
    join(setup.folder, `chunk-of-${firstLine}`),
    Number.POSITIVE_INFINITY,
  );
  let log: RejectionLog | undefined;
  const read = admitBlock({ bytes, firstLine }, fleet, {
    accept: (place, received) => shuffle.hold(place, received),
    reject: (rejection) => {
      log ??= new RejectionLog(join(setup.folder, `rejected-of-${firstLine}`));
      log.add(rejection);
    },
  });
  log?.close();
  const rejected = log && { path: log.path, counts: log.counts };
  return { read, chunk: shuffle.spill(), lastKnown: shuffle.lastKnown, rejected };
}
