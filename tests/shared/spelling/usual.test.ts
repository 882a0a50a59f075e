import fc from 'fast-check';
import { expect, it } from 'vitest';
import { admit } from '../../../shared/admission.ts';
import { readmit } from '../../../shared/readmit.ts';
import { LONGEST_HELD } from '../../../shared/spelling/heldLine.ts';
import { readUsual } from '../../../shared/spelling/usual.ts';
import type { Instant } from '../../../shared/time/instant.ts';
import type { Admission } from '../../../shared/verdict.ts';
import { wire } from '../../support/events.ts';
import { registryOf, unitRecord } from '../../support/fleet.ts';

const { units } = registryOf(
  unitRecord(),
  unitRecord({ unitId: 'u-18' }),
  unitRecord({ unitId: 'u-19', companyId: 'other' }),
);
const DAY = 86_400_000;
const TIME = Date.parse('2026-03-09T04:00:00Z');
const gallons = (value: number) => ({ value, unit: '[gal_us]' });
const events = [
  wire('salt-level', 'e-1', TIME, { mass: { value: 80, unit: '[lb_av]' } }, TIME),
  wire('flow-day', 'e-2', TIME, { date: '2026-03-08', volume: gallons(240.5) }),
  wire(
    'flow-day',
    'e-3',
    TIME,
    {
      date: '2026-03-08',
      volume: { value: 900, unit: 'L' },
      peakFlow: { value: 12.25, unit: 'L/min' },
      flowHours: 7,
      longestFlowMinutes: 12.5,
      register: { value: 1, unit: 'm3' },
    },
    TIME + 60_000,
  ),
  wire('regeneration', 'e-4', TIME, {
    trigger: 'metered',
    durationMinutes: 88,
    saltAfter: { value: -1, unit: 'kg' },
  }),
  wire('settings', 'e-5', TIME, {
    hardness: { value: 20, unit: 'mg/L' },
    capacity: { value: 20_000, unit: '[gr]' },
    regenerationHour: 2,
    clock: '09:00',
    mode: 'service',
  }),
  wire('away', 'e-6', TIME, { from: '2026-03-01', to: '2026-03-08' }, TIME),
  wire('power', 'e-7', TIME, {
    lostAt: '2026-03-09T01:00:00Z',
    restoredAt: '2026-03-09T02:00:00Z',
    settingsKept: true,
  }),
  wire('alert-act', 'e-8', TIME, { act: 'shelve', by: 'ann@example.com', until: '2026-03-10T02:00:00Z' }),
];

/** A line as senders spell them: members in any order, with white space or without, and some that no schema names. */
const spelt = fc
  .record({
    event: fc.constantFrom(...events),
    more: fc.constantFrom(
      {},
      { datacontenttype: 'application/json' },
      { recordedtime: null },
      { toString: 'x' },
      { seen: true },
    ),
    order: fc.constantFrom(0, 3),
    space: fc.constantFrom('', ' '),
  })
  .map(({ event, more, order, space }) => {
    const members = Object.entries({ ...event, ...more });
    const turned = Object.fromEntries([
      ...members.slice(order % members.length),
      ...members.slice(0, order % members.length),
    ]);
    return JSON.stringify(turned, null, space);
  });

const number = fc.oneof(
  fc.double({ noNaN: true }).map(String),
  fc.integer({ min: -2, max: 1_502 }).map(String),
  fc
    .tuple(fc.integer({ min: -30, max: 1_600 }), fc.nat({ max: 99_999 }))
    .map(([whole, part]) => `${whole}.${part}`),
  fc.stringMatching(/^-?\d{1,18}(\.\d{1,18})?$/),
  fc.constantFrom(
    '-0',
    '0.0',
    '00',
    '01',
    '1.',
    '.5',
    '-',
    '+1',
    '1e3',
    '2E-1',
    '1e999',
    '1e300',
    'null',
    '"1"',
    '25',
    '25.0',
  ),
);
const instant = fc.oneof(
  fc
    .integer({ min: TIME - 3 * 86_400_000, max: TIME + 3 * 86_400_000 })
    .map((time) => new Date(time).toISOString()),
  fc.stringMatching(/^20[012]\d-[01]\d-[0-3]\dT[0-2]\d:[0-6]\d:[0-6]\d(\.\d{1,4})?(Z|[-+][012]\d:[0-5]\d)$/),
  fc.constantFrom(
    '2026-02-30T00:00:00Z',
    '2026-03-09t04:00:00z',
    '2026-03-08T23:59:60Z',
    '0000-01-01T00:00:00Z',
  ),
  fc.constantFrom(
    '9999-12-31T23:59:59.999Z',
    '2026-03-09T04:00:00.000X',
    '2026-03-09T04:0a:00Z',
    '2026-03-09T04:00:00.0a0Z',
  ),
);
const date = fc.oneof(
  fc.integer({ min: 20_500, max: 20_520 }).map((day) => new Date(day * DAY).toISOString().slice(0, 10)),
  fc.stringMatching(/^(19|20|00)[0-9]{2}-[01][0-9]-[0-3][0-9]$/),
  fc.constantFrom(
    '2024-02-29',
    '2026-02-29',
    '2026-3-08',
    '2026-13-01',
    '2026-00-01',
    '2026-03-00',
    '2026-0a-01',
  ),
);
const id = fc.oneof(
  fc.stringMatching(/^[ -!#-[\]-~]{0,65}$/),
  fc.constantFrom(
    'x'.repeat(64),
    'x'.repeat(65),
    '\\u0041',
    'a\\"b',
    'a\\',
    'é',
    '\u{1F9C2}',
    'a\tb',
    'a"b',
    '\u007f',
  ),
);
const source = fc.constantFrom(
  '/companies/fenwick-water/units/u-18',
  '/companies/fenwick-water/units/u-19',
  '/companies/fenwick-water/units/u-20',
  '/companies/other/units/u-19',
  '/companies/x/units/u-17',
  '/companies//fenwick-water/units/u-17',
  '/companies/fenwick-water/units/u-17/',
  '/companies/fenwick-water/unit/u-17',
  'companies/fenwick-water/units/u-17',
);
const word = fc.constantFrom('kg', 'L', '[gal_us]', 'pint', 'metered', 'brinebell.flow-day.v1', '1.0', '0.3');
const clock = fc.oneof(
  fc.stringMatching(/^[0-2]\d:[0-6]\d$/),
  fc.constantFrom('24:00', '9:00', '09:0', '09:00:00', '09.00', '09:00\\n', '0\\u0039:00'),
);
const member = fc.constantFrom('"id":"again",', '"x":"y",', '"value":1,', '"data":{},', '"__proto__":{},');
const character = fc.constantFrom('', ' ', '0', '"', ',', '}', 'x', '\\', '\0', 'é');

/** Where in a line each kind of thing stands. */
const PLACES = {
  number: /(?<=":\s*)-?\d[\d.]*/g,
  instant: /(?<=")\d{4}-\d\d-\d\dT[^"]*(?=")/g,
  clock: /(?<=")\d\d:\d\d(?=")/g,
  date: /(?<=")\d{4}-\d\d-\d\d(?=")/g,
  id: /(?<="id":\s*")[^"]*(?=")/g,
  source: /(?<=")\/companies[^"]*(?=")/g,
  word: /(?<=:\s*")[^"]*(?=")/g,
  member: /(?<=\{)/g,
  character: /[\s\S]/g,
};

/** What may be otherwise in a line than in one that was spelt so before: something, in one of its places. */
const of = (kind: keyof typeof PLACES, by: fc.Arbitrary<string>) =>
  fc.record({ kind: fc.constant(kind), by, at: fc.nat() });
const change = fc.oneof(
  { weight: 8, arbitrary: of('number', number) },
  { weight: 4, arbitrary: of('instant', instant) },
  { weight: 4, arbitrary: of('date', date) },
  { weight: 4, arbitrary: of('id', id) },
  { weight: 4, arbitrary: of('clock', clock) },
  { weight: 3, arbitrary: of('source', source) },
  { weight: 1, arbitrary: of('word', fc.oneof(word, id, instant)) },
  { weight: 1, arbitrary: of('member', member) },
  { weight: 1, arbitrary: of('character', character) },
);

function changed(
  line: string,
  { kind, by, at }: { kind: keyof typeof PLACES; by: string; at: number },
): string {
  const places = [...line.matchAll(PLACES[kind])];
  const place = places[at % places.length];
  return place ? line.slice(0, place.index) + by + line.slice(place.index + place[0].length) : line;
}

/** Judges a line as JSON and its schemas do: with white space behind it, it is too long to be read as usual lines are. */
const plainly = (line: string, receivedAt?: Instant) =>
  admit(line.padEnd(LONGEST_HELD + 1), units, receivedAt);
/** JSON's reader names places, which may lie in that white space. */
const comparable = (admission: Admission) =>
  !admission.accepted && admission.reason === 'not-json' ? { ...admission, detail: '' } : admission;

it('gives the verdict and the fact that JSON and the schemas give', () => {
  const seen = { usual: 0, unusual: 0, refused: 0 };
  const receipt = fc.option(fc.integer({ min: TIME - 2 * 86_400_000, max: TIME + 86_400_000 }), {
    nil: undefined,
  });
  fc.assert(
    fc.property(spelt, fc.array(change, { maxLength: 2 }), receipt, (line, changes, receivedAt) => {
      // Lines of a spelling that is known pay for the next that is learnt.
      for (let times = 0; times < 10; times++) admit(line, units);
      const next = changes.reduce(changed, line);
      const isUsual = readUsual(next) !== undefined;
      const plain = plainly(next, receivedAt);
      expect(comparable(admit(next, units, receivedAt))).toEqual(comparable(plain));
      // Learnt by now, if it can be.
      expect(comparable(admit(next, units, receivedAt))).toEqual(comparable(plain));
      if (plain.accepted) expect(readmit(next, plain.unit)).toEqual(plain.fact);
      seen[isUsual ? 'usual' : plain.accepted ? 'unusual' : 'refused'] += 1;
    }),
    { numRuns: 3_000 },
  );
  expect(Math.min(...Object.values(seen)), JSON.stringify(seen)).toBeGreaterThan(400);
});

it('takes of two members of one name the last, and nothing from the first', () => {
  const line = JSON.stringify(events[1]).replace(
    '"data":',
    '"data":{"date":"2026-03-07","flowHours":7},"data":',
  );
  // Lines of a spelling that is known pay for those that are learnt.
  for (let times = 0; times < 100; times++) admit(JSON.stringify(events[0]), units);
  for (let times = 0; times < 3; times++)
    expect(admit(line, units)).toMatchObject({
      accepted: true,
      fact: { gallons: 240.5, flowHours: undefined },
    });
});
