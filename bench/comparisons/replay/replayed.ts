import { COMMAND, type Fleet } from '../../set/fleet.ts';
import { measuredProcess, type Use } from '../../set/measuredProcess.ts';

/** Where replays write what they find; the next one puts its own in its place. */
export const REPLAYED = 'out/bench/replayed';

/** Replays a fleet with the command as anyone would, and tells what that took. */
export function replayed(
  { events, registry }: Pick<Fleet, 'events' | 'registry'>,
  threads: number,
  node: readonly string[] = [],
): Promise<Use> {
  const options = ['--units', registry, '--out', REPLAYED, '--threads', String(threads)];
  return measuredProcess(...node, COMMAND, 'replay', events, ...options);
}
