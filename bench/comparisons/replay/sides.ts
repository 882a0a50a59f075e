import { availableParallelism } from 'node:os';
import type { Fleet } from '../../set/fleet.ts';
import type { Use } from '../../set/measuredProcess.ts';

/** What the processes of each side took, by its name. */
export type Uses = ReadonlyMap<string, readonly Use[]>;

/** The start and the end of each kind of process. */
export const EMPTY = { replay: 'replay of nothing', parse: 'parsing of nothing' } as const;
/** What the sides of a fleet are called. */
export const oneOf = ({ name }: Fleet) => `replay, one thread, ${name}`;
export const allOf = ({ name }: Fleet) => `replay, ${availableParallelism()} threads, ${name}`;
export const parseOf = ({ name }: Fleet) => `JSON.parse of each line, ${name}`;
