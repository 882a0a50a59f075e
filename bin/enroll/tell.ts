import { CommandError, oneLine } from '../errors.ts';
import type { Failure } from './enrol.ts';

/** `1 unit`, `200 units`. */
export function unitsOf(count: number): string {
  return `${count} ${count === 1 ? 'unit' : 'units'}`;
}

/**
 * Says what was done, and lists what was not.
 *
 * @throws CommandError `units-failed` if any failed
 */
export function tell(lines: readonly string[], failures: readonly Failure[]): void {
  for (const line of lines) console.log(line);
  if (failures.length === 0) return;
  for (const { unitId, why } of failures) console.error(`  ${unitId}: ${oneLine(why)}`);
  throw new CommandError(
    'units-failed',
    `${unitsOf(failures.length)} failed, as listed above`,
    'Mend what is wrong with them and do the same again; those that are done are left alone.',
  );
}
