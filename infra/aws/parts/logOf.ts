import type { FunctionName } from '../../topology.ts';
import { type CloudLog, cloudLog } from './cloudLog.ts';

/** The log of a function. */
export function logOf(name: FunctionName): CloudLog {
  return cloudLog({ service: name, write: writeLine });
}

/** Writes a line of the function's log. */
export function writeLine(line: string): void {
  process.stdout.write(`${line}\n`);
}
