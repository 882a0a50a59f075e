import type { RegionMonth } from '../../lib/salt/regionMonths.ts';
import { saltCsv } from '../../lib/salt/saltCsv.ts';
import type { Rules } from '../../lib/watch/rules.ts';
import type { Registry } from '../../shared/registry.ts';
import type { Summary } from '../../shared/summary.ts';
import type { Instant } from '../../shared/time/instant.ts';
import type { CommandError } from '../errors.ts';
import { AlertLog, type AlertTally } from './alertLog.ts';
import type { Fleet } from './fleet.ts';
import { type FoldedFleet, foldFleet } from './foldFleet.ts';
import { LateRejections } from './rejections.ts';
import { summaryOf } from './summary.ts';
import { type FleetInputs, withReceived } from './withReceived.ts';

/** What is to be replayed, and how. */
export interface ReplayRequest extends FleetInputs {
  rules: Rules;
  /** The end; by default the last instant at which an accepted event became known. */
  until: Instant | undefined;
}

/** What a replay found, beside the files that it wrote. */
export interface Replayed {
  fleet: Fleet;
  registry: Registry;
  summary: Summary;
  until: Instant | undefined;
  alerts: AlertTally;
  salt: readonly RegionMonth[];
  /** Why the events could not be read to their end, if so. */
  broken: CommandError | undefined;
}

/**
 * Replays stored events through the same code as the live service and writes what section 3 of the contract says.
 * What is written depends neither on the order of the lines nor on the threads and the memory that are used.
 *
 * @throws CommandError if an input cannot be read at all or the folder cannot be used; nothing is written then
 */
export async function replay(request: ReplayRequest): Promise<Replayed> {
  const began = performance.now();
  return withReceived(request, 'Nothing was replayed.', async (given) => {
    const { fleet, registry, folder, shuffle, engine, progress, rejections, read, broken } = given;
    const late = new LateRejections(folder.passing('rejections-by-unit'));
    const alertLines = folder.output('alerts.ndjson');
    const forecasts = folder.output('forecasts.ndjson');
    const salt = folder.output('salt.csv');
    const rejected = folder.output('rejected.ndjson');
    const summaryFile = folder.output('summary.json');

    const until = request.until ?? shuffle.lastStanding();
    const alertLog = new AlertLog(folder.passing('alerts-by-unit'), fleet);
    const outputs = { alerts: alertLog, forecasts, late, progress };
    const folded: FoldedFleet =
      until === undefined
        ? { accepted: 0, duplicates: 0, unitsReporting: 0, salt: [] }
        : await foldFleet(fleet, shuffle, { rules: request.rules, until }, engine, outputs);
    const alerts = alertLog.writeTo(alertLines);
    salt.add(saltCsv(folded.salt));
    await late.mergeInto(rejected, rejections);
    const summary = summaryOf(folded, alerts, {
      read,
      rejections: rejections.counts,
      conflicts: late.count,
      units: fleet.units.length,
      until,
      complete: !broken && registry.problems.length === 0,
      rules: request.rules,
      seconds: (performance.now() - began) / 1000,
    });
    summaryFile.add(`${JSON.stringify(summary, null, 2)}\n`);
    folder.publish();
    return { fleet, registry, summary, until, alerts, salt: folded.salt, broken };
  });
}
