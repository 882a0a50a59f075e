import { join } from 'node:path';
import { createInterface } from 'node:readline';
import { Readable } from 'node:stream';
import { Command } from 'commander';
import * as z from 'zod';
import { type Score, scoreFleet } from '../../lib/score/score.ts';
import type { ScoredUnit } from '../../lib/score/scoredUnit.ts';
import { SeenLog } from '../../lib/score/seen.ts';
import type { MadeFleet } from '../../lib/score/stallBound.ts';
import { RegistryError } from '../../shared/registry.ts';
import { summarySchema } from '../../shared/summary.ts';
import { parseInstant } from '../../shared/time/instant.ts';
import { parseLocalDate } from '../../shared/time/localDate.ts';
import { firstIssue } from '../../shared/zodIssue.ts';
import { CommandError } from '../errors.ts';
import { openSource, readText } from '../replay/source.ts';
import { readScored } from '../score/readScored.ts';
import { scoreText } from '../score/scoreText.ts';
import { writeText } from '../writeText.ts';

const HELP = `
SIMULATED is a folder that brinebell simulate wrote, OUT what brinebell replay made of it. What is counted:
  told          an alert of the fault's kind, or of one listed in its truth (detail.also), raised from the day on which
                the fault showed (detail.shownOn; 3 days before a meter began to dwindle) to 2 days after it was mended,
                or raised before and open when it showed. An alert tells of one fault only. Shares are of the faults on
                units that sense them (leak and meter-obstructed: peak-flow; tank-empty and salt-bridged: salt-level;
                brine-not-drawn: salt-level or brine-draw); "of all" has the others, too
  not counted   faults that never showed, and those that ended, or the watch did, too soon after: within 21 days for a
                stalled meter, 30 for an obstructed one, 3 for a leak, 4 for a silent unit or a missed regeneration, 15
                else. Alerts raised later than a day after the last day of the fleet are not judged
  days          from the day on which the fault showed to the telling; "regen.": regenerations without salt by then
  true          an alert of something that was so on the day of raising: a fault or what follows from it, an overrun or
                a regeneration without salt (up to 14 days after it), a tank that would be empty within 26 days were none
                put in (by the truth, or by the level read and the regenerations that followed), a carrier that was down
                or days missing from a record (silent-unit), settings lost (setting-mismatch, clock-off). Else it is
                false. "Again" is what tells of one thing after the first alert of its kind
  healthy       units without any injected fault
  right cause   one of the alerts of a told fault names a right cause; "first": the first of them does
  calibration   expected calibration error over ten bins, and Brier score
  asked, sent   for a stalled meter: any no-flow alert asks the household, a soon or urgent one sends a technician; days
                from that of the stall itself
  runs          days from the third reported one without flow on: the probability said last, 0 where no alert was open
  bound         what is least possible, knowing how the fleet was made (invented homes only)
The JSON has all of that and the reliability of each kind, bin by bin; with --json - it is all that is printed.

Examples:
  brinebell simulate --out fleet && brinebell replay fleet/events.ndjson --units fleet/units.json --out replayed
  brinebell score fleet replayed --json score.json`;

const simulationSchema = z.object({
  options: z.object({ days: z.int().min(1), start: z.iso.date(), usage: z.array(z.string()) }),
  counts: z.object({ lines: z.int().min(0) }),
});

/** `brinebell score`: alerts against the truth. */
export function scoreCommand(): Command {
  return new Command('score')
    .description('score what a replay told of a simulated fleet against the truth about it')
    .argument('<simulated>', 'folder of the simulated fleet')
    .argument('<out>', 'folder of the replay')
    .option('--json <file>', 'file to write the score to as JSON; - writes it to standard output')
    .addHelpText('after', HELP)
    .action(async (simulated: string, out: string, { json }: { json?: string }) => {
      const score = await scoreOf(simulated, out);
      const text = `${JSON.stringify(score, null, 2)}\n`;
      if (json === '-') {
        process.stdout.write(text);
        return;
      }
      if (json !== undefined) await writeText(json, text, '--json');
      console.log(scoreText(score));
      if (json !== undefined) console.log(`\nAll of it is in ${json}.`);
    });
}

async function scoreOf(simulated: string, out: string): Promise<Score> {
  const scored = await scoredIn(simulated, out);
  const { options, counts } = await read(join(simulated, 'simulation.json'), simulationSchema, 'simulate');
  const { read: lines, until, complete } = await read(join(out, 'summary.json'), summarySchema, 'replay');
  if (!complete || lines !== counts.lines) {
    throw new CommandError(
      'input-unreadable',
      `${out} is a replay of ${lines} lines${complete ? '' : ', broken off'}, and ${simulated} has ${counts.lines}`,
      'Score a replay against the fleet that it was a replay of.',
    );
  }
  const units = await withSeen(scored, join(simulated, 'events.ndjson'));
  const end = parseInstant(until ?? '');
  const watched = units.map((unit) =>
    end === undefined ? unit : { ...unit, to: Math.min(unit.to, unit.unit.zone.dateAt(end)) },
  );
  return scoreFleet(watched, options.usage.length > 0 ? undefined : madeOf(options, units));
}

async function scoredIn(simulated: string, out: string): Promise<ScoredUnit[]> {
  try {
    return await readScored(simulated, out);
  } catch (error) {
    if (!(error instanceof RegistryError)) throw error;
    throw foreign(join(simulated, 'units.json'), error.message, 'simulate');
  }
}

/** Adds to each unit what its events say. */
async function withSeen(units: readonly ScoredUnit[], path: string): Promise<ScoredUnit[]> {
  const log = new SeenLog(units.map(({ unit }) => unit.unitId));
  const source = await openSource(path);
  const lines = createInterface({ input: Readable.from(source.bytes()), crlfDelay: Infinity });
  for await (const line of lines) log.add(line);
  return units.map((unit) => ({ ...unit, seen: log.of(unit.unit.unitId) }));
}

function madeOf(options: { start: string; days: number }, units: readonly ScoredUnit[]): MadeFleet {
  const stalling = units.filter(({ truth }) =>
    truth.some(({ what, kind }) => what === 'fault' && kind === 'no-flow'),
  );
  return {
    start: parseLocalDate(options.start) ?? 0,
    days: options.days,
    stallShare: stalling.length / Math.max(1, units.length),
  };
}

async function read<Schema extends z.ZodType>(
  path: string,
  schema: Schema,
  command: 'simulate' | 'replay',
): Promise<z.infer<Schema>> {
  let json: unknown;
  const text = await readText(path);
  try {
    json = JSON.parse(text);
  } catch {
    throw foreign(path, 'it is not JSON throughout', command);
  }
  const parsed = schema.safeParse(json);
  if (!parsed.success) throw foreign(path, firstIssue(parsed.error), command);
  return parsed.data;
}

function foreign(path: string, why: string, command: 'simulate' | 'replay'): CommandError {
  return new CommandError(
    'input-unreadable',
    `${path}: ${why}`,
    `It should be what brinebell ${command} wrote; make it anew.`,
  );
}
