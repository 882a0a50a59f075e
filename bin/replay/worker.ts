import { parentPort, workerData } from 'node:worker_threads';
import type { TrialOptions } from '../../lib/trial/tryRules.ts';
import type { Unit } from '../../shared/registry.ts';
import { zoneNamed } from '../../shared/time/zone.ts';
import { type AdmittedBlock, Admitter } from './admitBlock.ts';
import { fleetOf } from './fleet.ts';
import { type Folded, type FoldOptions, foldUnits } from './foldUnits.ts';
import { LineTexts } from './lineTexts.ts';
import { textsIn } from './shuffle.ts';
import { type Tried, tryUnits } from './tryUnits.ts';
import { RangeReader, type UnitRange } from './unitRange.ts';

/** What each worker is given once. */
export interface Setup {
  /** In the order of the registry, each with its time zone by name: a zone cannot be sent. */
  units: readonly (Omit<Unit, 'zone'> & { zone: string })[];
  /** The folder for files that pass with the run. */
  folder: string;
}

export type Task =
  | { block: { bytes: Uint8Array<ArrayBuffer>; firstLine: number; position: number } }
  | { range: UnitRange; options: FoldOptions }
  | { range: UnitRange; trial: TrialOptions };

/** What became of a task. */
export type Reply = { result: AdmittedBlock | Folded | Tried } | { error: unknown };

const { units, folder }: Setup = workerData;
const fleet = fleetOf(new Map(units.map((unit) => [unit.unitId, { ...unit, zone: zoneOf(unit.zone) }])));
const admitter = new Admitter(fleet);
const texts = new LineTexts(textsIn(folder));

// Tasks are done in a thread of its own by the same functions as without threads.
parentPort?.on('message', (task: Task) => {
  try {
    if ('block' in task) {
      const { bytes, ...place } = task.block;
      const block = { ...place, bytes: Buffer.from(bytes.buffer, bytes.byteOffset, bytes.length) };
      reply(admitter.admit(block), ({ chunk, lastKnown, rejected }) => [
        chunk.bytes.buffer,
        chunk.offsets.buffer,
        lastKnown.buffer,
        ...(rejected ? [rejected.bytes.buffer] : []),
      ]);
      return;
    }
    const { range } = task;
    const reader = new RangeReader(range, texts);
    const inRange = fleet.units.slice(range.first, range.end);
    const receivedBy = (index: number) => reader.received(index);
    if ('trial' in task) reply(tryUnits(inRange, receivedBy, task.trial), () => []);
    else reply(foldUnits(inRange, receivedBy, task.options), ({ forecasts }) => [forecasts.buffer]);
  } catch (error) {
    send({ error }, []);
  }
});

function reply<Result extends AdmittedBlock | Folded | Tried>(
  result: Result,
  handedOver: (result: Result) => ArrayBuffer[],
): void {
  send({ result }, handedOver(result));
}

function send(message: Reply, handedOver: ArrayBuffer[]): void {
  parentPort?.postMessage(message, handedOver);
}

function zoneOf(name: string) {
  const zone = zoneNamed(name);
  if (!zone) throw new RangeError(`the registry's time zone ${name} is gone`);
  return zone;
}
