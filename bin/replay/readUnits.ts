import { tmpdir } from 'node:os';
import type { Received } from '../../lib/replay/received.ts';
import { type Registry, RegistryError, readRegistry, type Unit } from '../../shared/registry.ts';
import type { Instant } from '../../shared/time/instant.ts';
import { CommandError } from '../errors.ts';
import { here } from './engine.ts';
import { fleetOf } from './fleet.ts';
import { OutputFolder } from './outputFolder.ts';
import { Progress } from './progress.ts';
import { RejectionLog } from './rejections.ts';
import { HELD_MEGABYTES, Shuffle } from './shuffle.ts';
import { openSource, readText } from './source.ts';
import { takeIn } from './takeIn.ts';

/** Files to read, and what for: a word for the bar, as Advising. */
export interface Inputs {
  readonly events: string;
  readonly units: string;
  readonly task: string;
}

/** What reading found wrong. */
export interface ReadUnits {
  readonly registry: Registry;
  /** Lines that were not accepted. */
  readonly rejected: number;
  /** Why the events could not be read to their end, if so. */
  readonly broken: CommandError | undefined;
}

/**
 * Reads events as a replay does and hands on what each unit received, with the instant at which the last event that
 * stands became known. Only `unitId` where one is named.
 *
 * @throws CommandError where an input cannot be read, or the unit is not in the registry
 */
export async function readUnits(
  { events, units, task }: Inputs,
  unitId: string | undefined,
  take: (unit: Unit, received: readonly Received[], until: Instant) => void,
): Promise<ReadUnits> {
  const registry = registryOf(units, await readText(units));
  const fleet = fleetOf(registry.units);
  if (unitId !== undefined && !fleet.byId.has(unitId)) {
    throw new CommandError('usage', `${unitId} is not in ${units}`, 'Name a unit by its unitId.');
  }
  const source = await openSource(events);
  const folder = new OutputFolder(tmpdir());
  let shuffle: Shuffle | undefined;
  try {
    shuffle = new Shuffle(fleet.units.length, folder.path, HELD_MEGABYTES);
    const rejections = new RejectionLog(folder.passing('rejections'));
    const progress = new Progress();
    const { broken } = await takeIn(source, here(fleet, shuffle), { shuffle, rejections, progress });
    const until = shuffle.lastStanding() ?? 0;
    progress.begin(task, fleet.units.length);
    for (const range of shuffle.ranges(1)) {
      const inRange = fleet.units.slice(range.first, range.end);
      if (unitId !== undefined && !inRange.some((unit) => unit.unitId === unitId)) continue;
      const reader = shuffle.reader(range);
      inRange.forEach((unit, index) => {
        if (unitId === undefined || unit.unitId === unitId) take(unit, reader.received(index), until);
        progress.reach(range.first + index + 1);
      });
    }
    progress.end();
    const rejected = [...rejections.counts.values()].reduce((sum, count) => sum + count, 0);
    return { registry, rejected, broken };
  } finally {
    shuffle?.close();
    folder.discard();
  }
}

function registryOf(path: string, text: string): Registry {
  try {
    return readRegistry(text);
  } catch (error) {
    if (!(error instanceof RegistryError)) throw error;
    throw new CommandError(
      'registry-unreadable',
      `${path}: ${error.message}`,
      'Correct the registry; nothing was written.',
    );
  }
}
