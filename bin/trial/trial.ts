import { pageOf } from '../../lib/trial/page/page.ts';
import type { TrialRow } from '../../lib/trial/row.ts';
import { type TrialSummary, trialSummaryOf } from '../../lib/trial/summary.ts';
import { addTally, emptyTally, type TrialTally } from '../../lib/trial/tally.ts';
import type { TrialOptions } from '../../lib/trial/tryRules.ts';
import type { Rules } from '../../lib/watch/rules.ts';
import { compareText } from '../../shared/compareText.ts';
import type { Registry } from '../../shared/registry.ts';
import type { Instant } from '../../shared/time/instant.ts';
import type { CommandError } from '../errors.ts';
import { inOrder } from '../replay/inOrder.ts';
import { type FleetInputs, type ReceivedFleet, withReceived } from '../replay/withReceived.ts';

/** What is to be tried, and on what. */
export interface TrialRequest extends FleetInputs {
  present: Rules;
  proposed: Rules;
  /** The end; by default the last instant at which an accepted event became known. */
  until: Instant | undefined;
}

/** What a trial found, beside the files that it wrote. */
export interface Tried {
  registry: Registry;
  summary: TrialSummary;
  tally: TrialTally;
  /** Lines of events, blank ones aside, and those of them that were not accepted. */
  read: number;
  rejected: number;
  until: Instant | undefined;
  seconds: number;
  /** Why the events could not be read to their end, if so. */
  broken: CommandError | undefined;
}

/**
 * Replays every unit by two sets of rules and writes trial.ndjson, trial.html and summary.json. What is written depends
 * neither on the order of the lines nor on the threads and the memory that are used.
 *
 * @throws CommandError if an input cannot be read at all or the folder cannot be used; nothing is written then
 */
export async function trial(request: TrialRequest): Promise<Tried> {
  const { present, proposed } = request;
  const began = performance.now();
  return withReceived(request, 'Nothing was tried.', async (given) => {
    const { registry, folder, shuffle, rejections, read, broken } = given;
    const lines = folder.output('trial.ndjson');
    const page = folder.output('trial.html');
    const summaryFile = folder.output('summary.json');
    const until = request.until ?? shuffle.lastStanding();
    const { tally, rows } =
      until === undefined ? nothing() : await tryFleet(given, { present, proposed, until });
    for (const row of rows) lines.add(`${JSON.stringify(row)}\n`);
    const readWhole = !broken && registry.problems.length === 0;
    const summary = trialSummaryOf(tally, { present, proposed, until, notTried: [], readWhole });
    page.add(pageOf(summary, tally.mostChanged));
    summaryFile.add(`${JSON.stringify(summary, null, 2)}\n`);
    folder.publish();
    const rejected = [...rejections.counts.values()].reduce((sum, count) => sum + count, 0);
    const seconds = (performance.now() - began) / 1000;
    return { registry, summary, tally, read, rejected, until, seconds, broken };
  });
}

/** Tries the rules on every unit; the rows by unit. */
async function tryFleet({ fleet, shuffle, engine, progress }: ReceivedFleet, options: TrialOptions) {
  const { tally, rows } = nothing();
  progress.begin('Trying rules', fleet.units.length);
  await inOrder(
    shuffle.ranges(engine.threads),
    engine.atOnce,
    (range) => engine.tryRules(range, options),
    async (tried) => {
      addTally(tally, tried.tally);
      for (const row of tried.rows) rows.push(row);
      progress.reach(tally.units);
    },
  );
  progress.end();
  // A unit's own rows keep their order.
  rows.sort((a, b) => compareText(a.unitId, b.unitId));
  return { tally, rows };
}

function nothing(): { tally: TrialTally; rows: TrialRow[] } {
  return { tally: emptyTally(), rows: [] };
}
