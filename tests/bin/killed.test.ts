import { spawn } from 'node:child_process';
import { once } from 'node:events';
import { mkdirSync, readdirSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { setTimeout } from 'node:timers/promises';
import { afterAll, expect, test } from 'vitest';
import { brinebell, COMMAND, OUTPUTS, outputsIn, scratch, timelessOutputsIn } from '../support/command.ts';
import { lines, records } from '../support/smallFleet.ts';

const folder = scratch();
afterAll(folder.remove);
const units = folder.file('units.json', JSON.stringify(records));
const events = folder.file('events.ndjson', lines.join('\n'));

/** Starts a replay that waits for more of its events. */
async function waiting(out: string) {
  const child = spawn(process.execPath, [COMMAND, 'replay', '-', '--units', units, '--out', out]);
  child.stdin.write(lines.slice(0, 50).join('\n'));
  while (!readdirSync(out).some((name) => name.startsWith('.brinebell-'))) await setTimeout(10);
  return child;
}

test.each([
  ['SIGTERM', 143, 0],
  ['SIGINT', 130, 0],
  ['SIGKILL', null, 1],
] as const)(
  'a run that is stopped by %s leaves what was there as it was',
  async (signal, status, leftBehind) => {
    const out = folder.folder();
    mkdirSync(out);
    writeFileSync(join(out, 'alerts.ndjson'), 'of an earlier run\n');
    const child = await waiting(out);
    child.kill(signal);
    const [code] = await once(child, 'exit');
    expect(code).toBe(status);
    const { 'alerts.ndjson': alerts, ...others } = outputsIn(out);
    expect(alerts).toBe('of an earlier run\n');
    expect(Object.keys(others)).toHaveLength(leftBehind);
    // The next run puts all in order.
    expect(brinebell(['replay', events, '--units', units, '--out', out]).status).toBe(0);
    expect(Object.keys(outputsIn(out)).sort()).toEqual([...OUTPUTS].sort());
  },
);

test('whenever a run is killed, a file that is there is whole', async () => {
  const reference = folder.folder();
  const began = performance.now();
  expect(brinebell(['replay', events, '--units', units, '--out', reference]).status).toBe(0);
  const took = performance.now() - began;
  const whole = timelessOutputsIn(reference);
  for (const share of [0.3, 0.5, 0.7, 0.8, 0.85, 0.9, 0.95, 1]) {
    const out = folder.folder();
    const child = spawn(process.execPath, [COMMAND, 'replay', events, '--units', units, '--out', out], {
      stdio: 'ignore',
    });
    const exit = once(child, 'exit');
    await Promise.race([setTimeout(took * share), exit]);
    child.kill('SIGKILL');
    await exit;
    const found = outputsIn(out);
    for (const name of OUTPUTS.filter((each) => each in found && each !== 'summary.json')) {
      expect(found[name]).toBe(whole[name]);
    }
    // The summary is the last to be put in place.
    if ('summary.json' in found) expect(timelessOutputsIn(out)).toMatchObject(whole);
  }
});
