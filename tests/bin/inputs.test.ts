import { randomBytes } from 'node:crypto';
import { appendFileSync } from 'node:fs';
import { gzipSync } from 'node:zlib';
import { afterAll, describe, expect, test } from 'vitest';
import { brinebell, linesOf, OUTPUTS, outputsIn, scratch, summaryIn } from '../support/command.ts';
import { unitRecord } from '../support/fleet.ts';
import { lines, records } from '../support/smallFleet.ts';

const folder = scratch();
afterAll(folder.remove);
const text = lines.join('\n');
const events = folder.file('events.ndjson', text);
const units = folder.file('units.json', JSON.stringify(records));

function replay(given: {
  events?: string;
  units?: string;
  more?: string[];
  input?: Buffer;
  node?: string[];
}) {
  const out = folder.folder();
  const args = [
    'replay',
    given.events ?? events,
    '--units',
    given.units ?? units,
    '--out',
    out,
    ...(given.more ?? []),
  ];
  const run = brinebell(args, { input: given.input ?? '', node: given.node ?? [] });
  return { ...run, out, names: Object.keys(outputsIn(out)).sort() };
}

describe('what cannot be read at all ends with 2, says what to do and writes nothing', () => {
  const cases: [what: string, given: Parameters<typeof replay>[0], says: RegExp][] = [
    ['events that do not exist', { events: 'nowhere.ndjson' }, /nowhere\.ndjson.*no such file/],
    ['a folder for events', { events: folder.path }, /is a folder/],
    ['a registry that does not exist', { units: 'nowhere.json' }, /nowhere\.json.*no such file/],
    ['a folder for a registry', { units: events.replace(/[^/]+$/, '') }, /is a folder/],
    [
      'a registry of prose',
      { units: folder.file('prose.json', 'Dear all,\nthe units') },
      /prose\.json: .*registry.* JSON/,
    ],
    [
      'rules that are no JSON',
      { more: ['--rules', folder.file('rules.json', '{\n\n')] },
      /rules\.json is not JSON/,
    ],
    [
      'rules of an unknown name',
      { more: ['--rules', folder.file('rules.json', '{"spel":1}')] },
      /rules\.json: .*spel/,
    ],
    [
      'rules out of range',
      { more: ['--rules', folder.file('rules.json', '{"fold":{"draw":{"emptyOnset":2}}}')] },
      /fold\.draw\.emptyOnset/,
    ],
    ['an end without an offset', { more: ['--until', '2026-03-10T00:00:00'] }, /--until.*offset/s],
    ['no threads', { more: ['--threads', '0'] }, /--threads.*whole number/s],
    ['an unknown option', { more: ['--untill', 'x'] }, /--untill/],
  ];
  test.each(cases)('%s', (_, given, says) => {
    const run = replay(given);
    expect(run).toMatchObject({ status: 2, stdout: '', names: [] });
    expect(run.stderr).toMatch(says);
    expect(run.stderr).not.toMatch(/\n\s+at /);
    expect(linesOf(run.stderr).length).toBeLessThanOrEqual(3);
  });

  test('a file where the folder should be', () => {
    const run = brinebell(['replay', events, '--units', units, '--out', units]);
    expect(run).toMatchObject({ status: 2, stdout: '' });
    expect(run.stderr).toMatch(/cannot write to .*units\.json/);
  });
});

describe('gzip that breaks off', () => {
  const packed = gzipSync(text);
  const broken: [what: string, bytes: Buffer, leastShare: number][] = [
    ['cut short', packed.subarray(0, Math.floor(packed.length * 0.6)), 0.4],
    ['with a wrong checksum', Buffer.concat([packed.subarray(0, -8), Buffer.alloc(8, 7)]), 1],
    ['with rubbish after it', Buffer.concat([packed, Buffer.from('and then some')]), 0.8],
  ];
  test.each(broken)('%s: what came before counts, and the status is 2', (_, bytes, leastShare) => {
    for (const given of [{ events: '-', input: bytes }, { events: folder.file('events.gz', bytes) }]) {
      const run = replay(given);
      expect(run).toMatchObject({ status: 2, names: [...OUTPUTS].sort() });
      expect(run.stderr).toMatch(/could not be read to its end: .*gzip/);
      const { accepted, complete } = summaryIn(run.out);
      expect(complete).toBe(false);
      expect(accepted).toBeGreaterThanOrEqual(Math.floor(lines.length * leastShare));
    }
  });

  test('a file that is named .gz and is none', () => {
    const run = replay({ events: folder.file('events.gz', text) });
    expect(run).toMatchObject({ status: 2 });
    expect(run.stderr).toMatch(/corrupt gzip/);
  });
});

describe('odd files that can be read end with 0 and say so', () => {
  test('nothing at all', () => {
    for (const name of ['events.ndjson', 'events.gz']) {
      const run = replay({ events: folder.file(name, '') });
      expect(run).toMatchObject({ status: 0, names: [...OUTPUTS].sort() });
      expect(run.stderr).toMatch(/no events to read/);
      expect(summaryIn(run.out)).toMatchObject({ read: 0, accepted: 0, until: null, complete: true });
    }
  });

  test('bytes that are no text', () => {
    // A random line of one digit would be JSON.
    const noText = (size: number) =>
      Buffer.from(randomBytes(size).map((byte) => (byte >= 0x30 && byte <= 0x39 ? 0xff : byte)));
    const run = replay({ events: folder.file('photo.ndjson', noText(300_000)) });
    expect(run.status).toBe(0);
    expect(run.stderr).toMatch(/not one event was accepted/);
    const { read, quarantined } = summaryIn(run.out);
    expect(quarantined).toMatchObject({ total: read, 'not-json': read - quarantined['too-large'] });
  });

  // The peak that the system tells on Linux is that of the process alone; elsewhere it includes what started it.
  test.skipIf(process.platform !== 'linux')('a line of 200 MB is not held in memory', () => {
    const tell = `import fs from 'node:fs'; process.on('exit', () => console.error(fs.readFileSync('/proc/self/status', 'latin1')))`;
    const [shorter = Number.NaN, longer = Number.NaN] = [1, 200].map((megabytes) => {
      const file = folder.file('long.ndjson', `${lines[0]}\n`);
      for (let written = 0; written < megabytes; written++) appendFileSync(file, '"'.repeat(1 << 20));
      appendFileSync(file, `\n${lines[1]}`);
      const run = replay({ events: file, node: ['--import', `data:text/javascript,${tell}`] });
      expect(run.status).toBe(0);
      const [rejection = ''] = linesOf(outputsIn(run.out)['rejected.ndjson'] ?? '');
      expect(JSON.parse(rejection)).toMatchObject({ line: 2, reason: 'too-large', raw: '"'.repeat(1024) });
      expect(summaryIn(run.out)).toMatchObject({ read: 3, accepted: 2 });
      return Number(/VmHWM:\s*(\d+) kB/.exec(run.stderr)?.[1]);
    });
    expect(longer - shorter).toBeLessThan(100_000);
  });
});

describe('a registry with bad records', () => {
  const bad: [what: string, record: object, says: RegExp][] = [
    [
      'a zone that does not exist',
      unitRecord({ unitId: 'u-20', timeZone: 'America/Fenwick' }),
      /America\/Fenwick is not/,
    ],
    ['a duplicate that differs', unitRecord({ unitId: 'u-18', occupants: 9 }), /u-18.*duplicate unitId/],
    ['the same record twice', records[1] ?? {}, /u-18.*counted once/],
    ['a dose of nothing', unitRecord({ unitId: 'u-20', saltDose: { value: 0, unit: 'kg' } }), /saltDose/],
  ];
  test.each(bad)('%s: the good ones are replayed, and the status is 2', (what, record, says) => {
    const run = replay({ units: folder.file('units.json', JSON.stringify([...records, record])) });
    expect(run).toMatchObject({ status: 2, names: [...OUTPUTS].sort() });
    expect(run.stderr).toMatch(says);
    const standing = what === 'a duplicate that differs' ? records.length - 1 : records.length;
    expect(summaryIn(run.out)).toMatchObject({ units: standing, unitsReporting: standing, complete: false });
  });

  test('many problems are not all shown', () => {
    const run = replay({ units: folder.file('units.ndjson', '{"unitId":7}\n'.repeat(500)) });
    expect(run.status).toBe(2);
    expect(linesOf(run.stderr).length).toBeLessThan(30);
    expect(run.stderr).toMatch(/and 480 more/);
  });
});
