import { Command, CommanderError } from 'commander';
import manifest from '../package.json' with { type: 'json' };
import { adviseCommand } from './commands/advise.ts';
import { backtestCommand } from './commands/backtest.ts';
import { enrollCommand } from './commands/enroll.ts';
import { replayCommand } from './commands/replay.ts';
import { reportCommand } from './commands/report.ts';
import { schemaCommand } from './commands/schema.ts';
import { scoreCommand } from './commands/score.ts';
import { simulateCommand } from './commands/simulate.ts';
import { sqlCommand } from './commands/sql.ts';
import { trialCommand } from './commands/trial.ts';
import { CommandError, codeOf, EXIT, type ExitStatus, oneLine, reasonOf } from './errors.ts';

const EXAMPLES = `
Examples:
  brinebell simulate --out fleet               make a fleet to try things on
  brinebell replay fleet/events.ndjson --units fleet/units.json --out replayed
  zcat day-*.gz | brinebell replay - --units units.json --out replayed --threads 4
  brinebell score fleet replayed               how well the alerts tell what was true of it
  brinebell advise unit-0001 fleet/events.ndjson --units fleet/units.json
  brinebell backtest fleet/events.ndjson --units fleet/units.json --out backtest
  brinebell trial fleet/events.ndjson --units fleet/units.json --rules proposed.json --out trial
  brinebell report alder-county 2026-03 --events fleet/events.ndjson --units fleet/units.json --out reports
  brinebell enroll units.json --service URL --key-file key --out credentials.csv
  brinebell sql 'select * from region_months'  the archive of the running service, as tables
  brinebell schema --out schema                JSON Schema of every file that is read or written

Exit status: 0 all done; 1 it failed although its input was right; 2 bad usage, or an input that cannot be
read to its end. BRINEBELL_DEBUG=1 shows where an error arose.`;

const program = new Command('brinebell')
  .description('Exhaustion forecasts and alerts from the daily flow totals of metered water softeners.')
  .version(manifest.version)
  .showHelpAfterError('(brinebell --help shows how it is used)')
  .addHelpText('after', EXAMPLES)
  .exitOverride();

for (const command of [
  replayCommand(),
  simulateCommand(),
  scoreCommand(),
  adviseCommand(),
  backtestCommand(),
  trialCommand(),
  reportCommand(),
  enrollCommand(),
  sqlCommand(),
  schemaCommand(),
]) {
  command
    .copyInheritedSettings(program)
    .showHelpAfterError(`(brinebell ${command.name()} --help shows how it is used)`);
  program.addCommand(command);
}

// Whoever reads our output may stop reading it: `brinebell ... | head`.
process.stdout.on('error', (error) => {
  if (codeOf(error) !== 'EPIPE') throw error;
});

process.exitCode = await run();

async function run(): Promise<ExitStatus> {
  try {
    await program.parseAsync();
    return EXIT.done;
  } catch (error) {
    if (error instanceof CommanderError) return error.exitCode === 0 ? EXIT.done : EXIT.unusable;
    return tell(error);
  }
}

/** Says on standard error what went wrong, and gives the status to end with. */
function tell(error: unknown): ExitStatus {
  if (process.env.BRINEBELL_DEBUG) console.error(error);
  if (error instanceof CommandError) {
    console.error(`brinebell: ${oneLine(error.message)}\n  ${oneLine(error.advice)}`);
    return error.status;
  }
  console.error(`brinebell: failed: ${reasonOf(error)}`);
  console.error('  BRINEBELL_DEBUG=1 shows where. Outputs of this run were not put in place.');
  return EXIT.failed;
}
