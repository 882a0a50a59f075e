import type { RegistryProblem } from '../../shared/registry.ts';
import { formatInstant, type Instant } from '../../shared/time/instant.ts';
import { CommandError, oneLine } from '../errors.ts';

/** Problems of a registry that are shown one by one. */
const PROBLEMS_SHOWN = 20;
const DAY_MS = 86_400_000;

/** How the reading of a fleet went. */
export interface Reading {
  readonly problems: readonly RegistryProblem[];
  readonly read: number;
  readonly accepted: number;
  readonly until: Instant | undefined;
  /** Why the events could not be read to their end, if so. */
  readonly broken: CommandError | undefined;
}

/**
 * Says on standard error what was not right with the inputs.
 *
 * @param units path of the registry
 * @param where what says more of events that were not accepted
 * @throws CommandError if one of them was not read whole
 */
export function tellProblems(
  { problems, read, accepted, until, broken }: Reading,
  units: string,
  where: string,
): void {
  for (const { record, unitId, message } of problems.slice(0, PROBLEMS_SHOWN)) {
    const whose = unitId === undefined ? '' : ` (${unitId})`;
    console.error(oneLine(`${units}, record ${record}${whose}: ${message}`));
  }
  const hidden = problems.length - PROBLEMS_SHOWN;
  if (hidden > 0) console.error(`${units}: and ${hidden} more`);
  if (read === 0) console.error('warning: there were no events to read');
  else if (accepted === 0) {
    console.error(`warning: not one event was accepted; see ${where}. Is it the right file, and registry?`);
  }
  if (until !== undefined && until > Date.now() + DAY_MS) {
    console.error(
      `warning: the replay ends in the future, at ${formatInstant(until)}; --until sets another end`,
    );
  }
  if (broken) throw broken;
  if (problems.length > 0) {
    throw new CommandError(
      'registry-unreadable',
      `${problems.length} of the records of ${units} were set aside`,
      'The others were replayed. Mend the records that are named above and replay again.',
    );
  }
}
