import { type Registry, RegistryError, readRegistry } from '../../shared/registry.ts';
import { CommandError } from '../errors.ts';
import { type Engine, here, inThreads } from './engine.ts';
import { type Fleet, fleetOf } from './fleet.ts';
import { OutputFolder } from './outputFolder.ts';
import { Progress } from './progress.ts';
import { RejectionLog } from './rejections.ts';
import { Shuffle } from './shuffle.ts';
import { openSource, readText, type Source } from './source.ts';
import { takeIn } from './takeIn.ts';

/** Where a fleet's events and registry are, where outputs go, and what may be spent on it. */
export interface FleetInputs {
  /** Path of the events, or `-`; or the events themselves. */
  events: string | Source;
  /** Path of the registry. */
  units: string;
  /** Folder of the outputs. */
  out: string;
  threads: number;
  /** Of facts that are held in memory before they go into files. */
  heldMegabytes: number;
}

/** A fleet whose events have been judged and sorted by unit, and what it takes to go on with them. */
export interface ReceivedFleet {
  readonly fleet: Fleet;
  readonly registry: Registry;
  readonly folder: OutputFolder;
  readonly shuffle: Shuffle;
  readonly engine: Engine;
  readonly progress: Progress;
  /** Finished; by line. */
  readonly rejections: RejectionLog;
  /** Lines, blank ones aside. */
  readonly read: number;
  /** Why the events could not be read to their end, if so. */
  readonly broken: CommandError | undefined;
}

/**
 * Takes in a fleet's events, and has them used; whatever ends it, nothing is left running or lying about.
 *
 * @param undone what to say where the registry cannot be read at all
 * @throws CommandError if an input cannot be read at all or the folder cannot be used; nothing is written then
 */
export async function withReceived<Result>(
  request: FleetInputs,
  undone: string,
  use: (received: ReceivedFleet) => Promise<Result>,
): Promise<Result> {
  const registry = registryOf(request.units, await readText(request.units), undone);
  const fleet = fleetOf(registry.units);
  const source = typeof request.events === 'string' ? await openSource(request.events) : request.events;
  const folder = new OutputFolder(request.out);
  let engine: Engine | undefined;
  let shuffle: Shuffle | undefined;
  try {
    shuffle = new Shuffle(fleet.units.length, folder.path, request.heldMegabytes);
    const rejections = new RejectionLog(folder.passing('rejections-by-line'));
    const progress = new Progress();
    engine =
      request.threads > 1 ? inThreads(request.threads, fleet, shuffle, folder.path) : here(fleet, shuffle);
    const { read, broken } = await takeIn(source, engine, { shuffle, rejections, progress });
    return await use({ fleet, registry, folder, shuffle, engine, progress, rejections, read, broken });
  } finally {
    await engine?.close();
    shuffle?.close();
    folder.discard();
  }
}

/**
 * Reads a registry.
 *
 * @throws CommandError `registry-unreadable` if it cannot be read at all
 */
export function registryOf(path: string, text: string, undone: string): Registry {
  try {
    return readRegistry(text);
  } catch (error) {
    if (!(error instanceof RegistryError)) throw error;
    throw new CommandError('registry-unreadable', `${path}: ${error.message}`, undone);
  }
}
