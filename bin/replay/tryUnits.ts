import type { Received } from '../../lib/replay/received.ts';
import type { TrialRow } from '../../lib/trial/row.ts';
import { addUnit, emptyTally, type TrialTally } from '../../lib/trial/tally.ts';
import { type TrialOptions, tryRules } from '../../lib/trial/tryRules.ts';
import type { Unit } from '../../shared/registry.ts';

/** What a change of the rules does to neighbouring units, in the order of the registry. */
export interface Tried {
  tally: TrialTally;
  rows: TrialRow[];
}

/** Tries two sets of rules on units, each on what it received; see `foldUnits`. */
export function tryUnits(
  units: readonly Unit[],
  receivedBy: (index: number) => readonly Received[],
  options: TrialOptions,
): Tried {
  const tried: Tried = { tally: emptyTally(), rows: [] };
  units.forEach((unit, index) => {
    const trial = tryRules(unit, receivedBy(index), options);
    addUnit(tried.tally, trial);
    for (const row of trial.rows) tried.rows.push(row);
  });
  return tried;
}
