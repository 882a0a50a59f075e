import { execFileSync } from 'node:child_process';
import { existsSync, mkdirSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';

/** An invented fleet as files. */
export interface Fleet {
  readonly units: number;
  readonly days: number;
  readonly unitDays: number;
  /** "100 units x 365 days". */
  readonly name: string;
  readonly events: string;
  readonly registry: string;
}

/** The command as it is built. */
export const COMMAND = 'dist/brinebell.js';
const FOLDER = 'out/bench/fleets';
const NOTHING = 'out/bench/nothing';

/** A fleet of the simulator with its usual faults and untidiness, seed 1. It is made once and kept. */
export function fleetOf(units: number, days: number, say: (line: string) => void): Fleet {
  const folder = join(FOLDER, `${units}x${days}`);
  const name = `${units.toLocaleString('en-US')} units x ${days.toLocaleString('en-US')} days`;
  // The simulator puts its files in place when all of them are whole.
  if (!existsSync(join(folder, 'simulation.json'))) {
    say(`simulating ${name}, once`);
    execFileSync(
      process.execPath,
      [COMMAND, 'simulate', '--units', String(units), '--days', String(days), '--out', folder],
      { stdio: ['ignore', 'ignore', 'inherit'] },
    );
  }
  const events = join(folder, 'events.ndjson');
  return {
    ...{ units, days, unitDays: units * days, name, events },
    registry: join(folder, 'units.json'),
  };
}

/** A file of no events beside a registry of no units: what is left is the start and the end of the process. */
export function emptyFleet(): Pick<Fleet, 'events' | 'registry'> {
  mkdirSync(NOTHING, { recursive: true });
  const fleet = { events: `${NOTHING}/events.ndjson`, registry: `${NOTHING}/units.json` };
  writeFileSync(fleet.events, '');
  writeFileSync(fleet.registry, '[]');
  return fleet;
}
