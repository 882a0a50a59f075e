import { gzipSync } from 'node:zlib';
import fc from 'fast-check';
import { afterAll, expect, test } from 'vitest';
import { brinebell, linesOf, scratch, timelessOutputsIn } from '../support/command.ts';
import { event, events, lines, receivedAgain, records } from '../support/smallFleet.ts';

const folder = scratch();
afterAll(folder.remove);
const units = folder.file('units.json', JSON.stringify(records));

/** Lines of every fate: accepted, said twice, in conflict, rejected. */
const mixed = [
  ...lines,
  ...lines.slice(5, 9),
  event({ id: events[3]?.id, source: events[3]?.source, time: '2026-03-25T11:00:00Z' }),
  event({ source: '/companies/fenwick-water/units/u-99' }),
  'no JSON',
  event({ id: 'with-characters', notes: 'é ☃ 😀 \u2028' }),
];

function replayed(input: string | Buffer, ...options: string[]): Record<string, string> {
  const out = folder.folder();
  const { status, stderr } = brinebell(['replay', '-', '--units', units, '--out', out, ...options], {
    input,
  });
  expect({ status, stderr }).toEqual({ status: 0, stderr: '' });
  return timelessOutputsIn(out);
}

/** What was rejected, without where it stood. */
function rejectedOf(outputs: Record<string, string>): string[] {
  return linesOf(outputs['rejected.ndjson'] ?? '')
    .map((line) => line.replace(/^\{"line":\d+/, '{'))
    .sort();
}

test('threads, memory, packing and line ends change nothing', () => {
  const text = mixed.join('\n');
  const expected = replayed(text);
  const file = folder.file('events.ndjson', text);
  const fromFile = folder.folder();
  expect(brinebell(['replay', file, '--units', units, '--out', fromFile]).status).toBe(0);
  expect(timelessOutputsIn(fromFile)).toEqual(expected);
  expect(replayed(text, '--threads', '2')).toEqual(expected);
  expect(replayed(text, '--threads', '3', '--memory', '0.001')).toEqual(expected);
  expect(replayed(text, '--memory', '0')).toEqual(expected);
  expect(replayed(text, '--memory', '0.01')).toEqual(expected);
  const middle = Math.floor(text.length / 2);
  const members = [text.slice(0, middle), text.slice(middle)].map((part) => gzipSync(part));
  expect(replayed(Buffer.concat(members))).toEqual(expected);
  expect(replayed(`\uFEFF${mixed.join('\r\n')}\r\n`)).toEqual(expected);
});

test('nor do they where the events are read in several blocks', () => {
  // Over two megabytes, where a block has one.
  const text = Array.from({ length: 60 }, () => mixed.join('\n')).join('\n');
  expect(text.length).toBeGreaterThan(2 << 20);
  expect(replayed(text, '--threads', '3', '--memory', '0.1')).toEqual(replayed(text));
});

test('the order and the repetition of lines change nothing but where they stand', () => {
  const expected = replayed(mixed.join('\n'));
  const order = fc.shuffledSubarray(mixed, { minLength: mixed.length });
  const again = fc.subarray(lines);
  const options = fc.constantFrom([], ['--threads', '2'], ['--memory', '0.005']);
  fc.assert(
    fc.property(order, again, options, (shuffled, repeated, args) => {
      const found = replayed([...repeated, ...shuffled].join('\n'), ...args);
      const repeats = (summary = '') => JSON.parse(summary).duplicate as number;
      expect(repeats(found['summary.json']) - repeats(expected['summary.json'])).toBe(repeated.length);
      for (const name of ['alerts.ndjson', 'forecasts.ndjson', 'salt.csv'])
        expect(found[name]).toBe(expected[name]);
      expect(rejectedOf(found)).toEqual(rejectedOf(expected));
    }),
    { numRuns: 8 },
  );
});

test('a copy that is received weeks later does not move the end', () => {
  const copies = events.slice(0, 30).map((each) => JSON.stringify(receivedAgain(each, 60)));
  const expected = replayed(lines.join('\n'));
  for (const args of [[], ['--memory', '0']]) {
    const found = replayed([...copies, ...lines].join('\n'), ...args);
    expect(JSON.parse(found['summary.json'] ?? '')).toMatchObject({
      duplicate: copies.length,
      until: JSON.parse(expected['summary.json'] ?? '').until,
    });
    expect(found['alerts.ndjson']).toBe(expected['alerts.ndjson']);
    expect(found['salt.csv']).toBe(expected['salt.csv']);
  }
});
