import { type RegionMonth, RegionMonths } from '../../lib/salt/regionMonths.ts';
import type { AlertLog } from './alertLog.ts';
import type { Engine } from './engine.ts';
import type { Fleet } from './fleet.ts';
import type { FoldOptions } from './foldUnits.ts';
import { inOrder } from './inOrder.ts';
import type { OutputFile } from './outputFile.ts';
import type { Progress } from './progress.ts';
import type { LateRejections } from './rejections.ts';
import type { Shuffle } from './shuffle.ts';

/** What became of the fleet. */
export interface FoldedFleet {
  accepted: number;
  duplicates: number;
  unitsReporting: number;
  salt: RegionMonth[];
}

/** The second phase of a replay: folds every unit, in the order of the registry. */
export async function foldFleet(
  fleet: Fleet,
  shuffle: Shuffle,
  options: FoldOptions,
  engine: Engine,
  outputs: { alerts: AlertLog; forecasts: OutputFile; late: LateRejections; progress: Progress },
): Promise<FoldedFleet> {
  const accounts = new RegionMonths(options.until);
  const result: FoldedFleet = { accepted: 0, duplicates: 0, unitsReporting: 0, salt: [] };
  let done = 0;
  outputs.progress.begin('Folding units', fleet.units.length);
  await inOrder(
    shuffle.ranges(engine.threads),
    engine.atOnce,
    (range) => engine.fold(range, options),
    async (folded) => {
      outputs.forecasts.addBytes(folded.forecasts);
      for (const alert of folded.alerts) outputs.alerts.add(alert);
      for (const rejection of folded.conflicts) outputs.late.add(rejection);
      result.accepted += folded.accepted;
      result.duplicates += folded.duplicates;
      for (const { months, firstDate, owesUntil, reporting } of folded.accounts) {
        const unit = fleet.units[done++];
        if (unit) accounts.add(unit, months, firstDate, owesUntil);
        if (reporting) result.unitsReporting += 1;
      }
      outputs.progress.reach(done);
    },
  );
  outputs.progress.end();
  result.salt = accounts.rows();
  return result;
}
