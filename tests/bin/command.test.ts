import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { afterAll, expect, test } from 'vitest';
import manifest from '../../package.json' with { type: 'json' };
import { brinebell, scratch } from '../support/command.ts';
import { lines, records } from '../support/smallFleet.ts';

const folder = scratch();
afterAll(folder.remove);

function filesIn(path: string): Record<string, string> {
  return Object.fromEntries(readdirSync(path).map((name) => [name, readFileSync(join(path, name), 'utf8')]));
}

test('the published schemas are those of the code (npm run schema writes them)', () => {
  const out = folder.folder();
  expect(brinebell(['schema', '--out', out])).toMatchObject({ status: 0, stderr: '' });
  expect(filesIn(fileURLToPath(new URL('../../docs/schema', import.meta.url)))).toEqual(filesIn(out));
});

test('usage is told where it is asked for, and where it was not right', () => {
  expect(brinebell(['--version'])).toEqual({ status: 0, stdout: `${manifest.version}\n`, stderr: '' });
  const help = brinebell(['--help']);
  expect(help).toMatchObject({ status: 0, stderr: '' });
  expect(help.stdout).toMatch(/brinebell replay fleet\/events\.ndjson --units/);
  expect(brinebell([])).toMatchObject({ status: 2, stdout: '' });
  expect(brinebell(['replai'])).toMatchObject({
    status: 2,
    stdout: '',
    stderr: expect.stringMatching(/replay/),
  });
  expect(brinebell(['replay', '-'])).toMatchObject({
    status: 2,
    stdout: '',
    stderr: expect.stringMatching(/--units/),
  });
});

test('a report tells what was found, in lines that fit', () => {
  const units = folder.file('units.json', JSON.stringify(records));
  const out = folder.folder();
  const { stdout } = brinebell(['replay', '-', '--units', units, '--out', out], { input: lines.join('\n') });
  expect(stdout).toMatch(new RegExp(`${lines.length} events read; 3 of 3 units report`));
  expect(stdout).toMatch(/u-19 {2}no-flow \(meter-stalled\) since 2026-03-/);
  expect(stdout).toMatch(/alder-county +28 /);
  expect(Math.max(...stdout.split('\n').map((line) => line.length))).toBeLessThanOrEqual(100);
});
