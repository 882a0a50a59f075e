import { existsSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterAll, expect, test } from 'vitest';
import { formatLocalDate } from '../../shared/time/localDate.ts';
import { brinebell, scratch } from '../support/command.ts';
import { lines, receivedAgain, records } from '../support/smallFleet.ts';

const folder = scratch();
afterAll(folder.remove);

/** 2025-01-01. */
const FIRST_DATE = 20_089;

/** Invented homes of so many days: weekends are high, some days are missing. */
function csv(days: number, homes = 3): string {
  const rows = Array.from({ length: homes * days }, (_, row) => {
    const [home, day] = [Math.floor(row / days), row % days];
    const litres = 400 + 150 * home + 40 * ((day * 37 + home * 11) % 10) + (day % 7 > 4 ? 300 : 0);
    return day % 41 === 40 ? [] : [`<home ${home}>,${formatLocalDate(FIRST_DATE + day)},${litres}`];
  }).flat();
  return `meter_id,date,litres\n${rows.join('\n')}\n`;
}

function refused(args: readonly string[], input = '') {
  const { status, stdout, stderr } = brinebell(['backtest', ...args], { input });
  expect({ status, stdout }).toEqual({ status: 2, stdout: '' });
  return stderr;
}

test('homes of a CSV are forecast, and told as a table, as JSON and as one page that needs nothing else', () => {
  const usage = folder.file('daily.csv', csv(150));
  const out = folder.folder();
  const asked = ['backtest', '--usage', usage, '--horizons', '5,1'];
  const { status, stdout, stderr } = brinebell([...asked, '--out', out]);
  expect({ status, stderr }).toEqual({ status: 0, stderr: '' });
  expect(stdout).toMatch(/use of 3 homes, each from its reported day 61 on/);
  expect(stdout).toMatch(/the next day\n +demand model +261 .*\n +seven-day mean +261 /);
  expect(Math.max(...stdout.split('\n').map((line) => line.length))).toBeLessThanOrEqual(110);

  const json = readFileSync(join(out, 'backtest.json'), 'utf8');
  const { horizons, homes, scores, byHome } = JSON.parse(json);
  expect({ horizons, homes }).toEqual({ horizons: [1, 5], homes: 3 });
  expect(scores).toHaveLength(8);
  expect(byHome).toHaveLength(24);
  // Each home misses three of its 150 days; of the 147 others 60 warm up.
  expect(scores[0]).toMatchObject({ family: 'demand model', days: 1, forecasts: 261 });
  expect(brinebell([...asked, '--json', '-'])).toEqual({ status: 0, stdout: json, stderr: '' });

  const page = readFileSync(join(out, 'backtest.html'), 'utf8');
  expect(page).not.toMatch(/<script|(?:src|href)=|url\(|@import|NaN|undefined|Infinity/);
  // Whatever a meter is called, it is text.
  expect(page).not.toMatch(/<home/);
  expect(page).toMatch(/&lt;home \d&gt;/);
  const pictures = page.match(/<svg/g)?.length;
  expect(pictures).toBe(7);
  expect(
    page.match(
      /<svg [^>]*role="img" aria-labelledby="[\w-]+ [\w-]+">\s*<title id="[\w-]+">[^<]+<\/title>\s*<desc id="[\w-]+">[^<]{20,}<\/desc>/g,
    ),
  ).toHaveLength(7);
  const ids = [...page.matchAll(/ id="([^"]+)"/g)].map(([, id]) => id);
  expect(new Set(ids).size).toBe(ids.length);
});

test('events are settled as a replay settles them: copies and corrections change nothing', () => {
  const units = folder.file('units.json', JSON.stringify(records));
  const asked = ['backtest', '-', '--units', units, '--warm-up', '14', '--horizons', '1', '--json', '-'];
  expect(refused([...asked.slice(1)], lines.join('\n'))).toMatch(
    /longest record has 28 reported days; 44 are needed.*\n.*--warm-up/,
  );
  const longer = folder.folder();
  const made = ['--units', '3', '--days', '80', '--seed', '7', '--untidy', '0', '--faults', 'none'];
  expect(brinebell(['simulate', '--out', longer, ...made]).status).toBe(0);
  const registry = join(longer, 'units.json');
  const events = readFileSync(join(longer, 'events.ndjson'), 'utf8').trim().split('\n');
  const run = (input: readonly string[]) =>
    brinebell(['backtest', '-', '--units', registry, '--horizons', '1', '--warm-up', '20', '--json', '-'], {
      input: input.join('\n'),
    });
  const plain = run(events);
  expect(plain).toMatchObject({ status: 0, stderr: '' });
  expect(JSON.parse(plain.stdout)).toMatchObject({ homes: 3, horizons: [1] });
  const copies = events
    .filter((_, index) => index % 9 === 0)
    .map((line) => JSON.stringify(receivedAgain(JSON.parse(line), 3)));
  expect(run([...copies, ...events].reverse())).toEqual(plain);
  const odd = run([...events, 'not JSON']);
  expect(odd).toMatchObject({ status: 0, stdout: plain.stdout });
  expect(odd.stderr).toMatch(/1 events were not accepted/);
});

test('what cannot be backtested is told in a line, with what to do', () => {
  const usage = folder.file('daily.csv', csv(100));
  expect(refused([])).toMatch(
    /name events and their units, or files of daily use\n +brinebell backtest EVENTS/,
  );
  expect(refused(['events.ndjson'])).toMatch(/name events and their units/);
  expect(refused(['events.ndjson', '--usage', usage])).toMatch(/name events and their units/);
  expect(refused(['--usage', 'nowhere.csv'])).toMatch(/nowhere\.csv: there is no such file/);
  expect(refused(['--usage', folder.file('odd.csv', 'a,b\n1,2\n')])).toMatch(/no CSV of daily water use/);
  expect(refused(['--usage', folder.file('empty.csv', 'meter_id,date,litres\n')])).toMatch(/no homes/);
  expect(refused(['--usage', usage, '--warm-up', '90'])).toMatch(
    /longest record has 98 reported days; 120 are needed, 30 after a warm-up of 90\n.*shorter --warm-up/,
  );
  for (const horizons of ['0', '1,0', '1.5', '', '91', 'week']) {
    expect(refused(['--usage', usage, '--horizons', horizons])).toMatch(/whole number from 1 to 90/);
  }
  expect(refused(['--usage', usage, '--warm-up', '7'])).toMatch(/whole number from 14 to/);
  const out = folder.file('taken', '');
  expect(refused(['--usage', usage, '--out', out])).toMatch(/cannot write to/);
  const empty = folder.folder();
  expect(refused(['--usage', usage, '--warm-up', '90', '--out', empty])).not.toBe('');
  expect(existsSync(empty)).toBe(false);
});
