import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { admit } from '../../shared/admission.ts';
import { canonicalContent } from '../../shared/canonicalContent.ts';
import { QUARANTINE_REASONS, type QuarantineReason } from '../../shared/quarantine.ts';
import { readmit } from '../../shared/readmit.ts';
import { formatInstant, type Instant } from '../../shared/time/instant.ts';
import type { Admission } from '../../shared/verdict.ts';
import { withReceipt } from '../../shared/withReceipt.ts';
import { anyText, damaged } from '../support/damaged.ts';
import { type Wire, wire } from '../support/events.ts';
import { registryOf, unitRecord } from '../support/fleet.ts';

const { units } = registryOf(unitRecord(), unitRecord({ unitId: 'u-18' }));
const DAY = 86_400_000;
const TIME = Date.parse('2026-03-09T04:00:00Z');
const MOST_BYTES = 65_536;

const salt = { mass: { value: 80, unit: '[lb_av]' } };
const flow = { date: '2026-03-08', volume: { value: 240, unit: '[gal_us]' } };
const settings = {
  hardness: { value: 20, unit: '[gr]/[gal_us]' },
  capacity: { value: 20_000, unit: '[gr]' },
  regenerationHour: 2,
};
const visit = { technician: 'tech-4', findings: [], work: [] };
const power = { lostAt: '2026-03-09T01:00:00Z', restoredAt: '2026-03-09T02:00:00Z', settingsKept: true };
const period = { from: '2026-03-01', to: '2026-03-08' };

const event = (type = 'salt-level', data: Record<string, unknown> = salt) => wire(type, 'e-1', TIME, data);
const judge = (value: unknown, receivedAt?: Instant) => admit(JSON.stringify(value), units, receivedAt);
const verdictOf = (admission: Admission) => (admission.accepted ? 'accepted' : admission.reason);

describe('the first reason that applies', () => {
  /** What makes an event break each rule, whatever other rules it breaks as well. */
  const BREAK: Partial<Record<QuarantineReason, (event: Wire) => void>> = {
    'not-an-event': (broken) => Object.assign(broken, { specversion: '0.3' }),
    'unknown-type': (broken) => Object.assign(broken, { type: 'brinebell.salt-level.v2' }),
    'unknown-unit': (broken) => Object.assign(broken, { source: broken.source.replace('u-17', 'u-99') }),
    'wrong-company': (broken) => Object.assign(broken, { source: broken.source.replace('fenwick', 'other') }),
    'invalid-data': (broken) => Object.assign(broken, { data: { mass: 80 } }),
    'in-the-future': (broken) => Object.assign(broken, { recordedtime: formatInstant(TIME - 2 * DAY) }),
  };
  const BREAK_TEXT: Partial<Record<QuarantineReason, (line: string) => string>> = {
    'too-large': (line) => line + ' '.repeat(MOST_BYTES),
    'not-json': (line) => `${line}}`,
  };
  const judged = QUARANTINE_REASONS.filter((reason) => reason !== 'conflicting-duplicate');

  it('is given, of all 256 ways to break none, some or all of the rules', () => {
    for (let way = 0; way < 2 ** judged.length; way++) {
      const broken = judged.filter((_, index) => way & (1 << index));
      const value = event();
      for (const reason of broken) BREAK[reason]?.(value);
      let line = JSON.stringify(value);
      for (const reason of broken) line = BREAK_TEXT[reason]?.(line) ?? line;
      expect(verdictOf(admit(line, units)), broken.join()).toBe(broken[0] ?? 'accepted');
    }
  });
});

describe('the envelope', () => {
  const valid: [what: string, over: Record<string, unknown>][] = [
    [
      'attributes that CloudEvents names and the contract does not',
      { subject: 'bed', datacontenttype: 'x/y' },
    ],
    ['extension attributes of any shape', { traceparent: '00-ab', nested: { deep: [1, null] } }],
    ['an id of 64 characters', { id: 'a'.repeat(64) }],
    // JSON Schema, too, counts characters and not their UTF-16 halves.
    ['an id of 64 characters outside of the basic plane', { id: '\u{1F9C2}'.repeat(64) }],
    ['a time with an offset', { time: '2026-03-09T00:00:00-04:00' }],
    ['recordedtime of null, which CloudEvents has mean left out', { recordedtime: null }],
  ];
  it.each(valid)('may have %s', (_, over) => {
    expect(judge({ ...event(), ...over }).accepted).toBe(true);
  });

  const invalid: [what: string, over: Record<string, unknown>][] = [
    ['specversion as a number', { specversion: 1 }],
    ['no id', { id: undefined }],
    ['an empty id', { id: '' }],
    ['an id of 65 characters', { id: 'a'.repeat(65) }],
    ['an id of 65 characters outside of the basic plane', { id: '\u{1F9C2}'.repeat(65) }],
    ['a number for an id', { id: 1 }],
    ['an empty type', { type: '' }],
    ['a type without a text form', { type: { toString: 1, valueOf: 1 } }],
    ['an id with a length of its own', { id: { length: { toString: 1, valueOf: 1 } } }],
    ['a list for a type', { type: ['brinebell.salt-level.v1'] }],
    ['no time', { time: undefined }],
    ['a time without an offset', { time: '2026-03-09T04:00:00' }],
    ['a time that does not exist', { time: '2026-02-30T04:00:00Z' }],
    ['a recordedtime that is none', { recordedtime: 'yesterday' }],
    ['no data', { data: undefined }],
    ['data that is a list', { data: [salt] }],
    ['data that is a text', { data: JSON.stringify(salt) }],
    ['a source of another shape', { source: '/units/u-17' }],
    ['a source with something behind it', { source: '/companies/fenwick-water/units/u-17/' }],
    ['a source with a host', { source: 'https://example.com/companies/fenwick-water/units/u-17' }],
    ['a percent sign in a unit id', { source: '/companies/fenwick-water/units/u%2D17' }],
    ['a unit id that begins with a point', { source: '/companies/fenwick-water/units/.u-17' }],
    ['a unit id of 65 characters', { source: `/companies/fenwick-water/units/${'u'.repeat(65)}` }],
    ['a break behind the source', { source: '/companies/fenwick-water/units/u-17\n' }],
  ];
  it.each(invalid)('may not have %s', (_, over) => {
    expect(verdictOf(judge({ ...event(), ...over }))).toBe('not-an-event');
  });

  it.each([null, true, 7, 'event', [], [event()], {}].map((value) => [value]))('is not %j', (value) => {
    expect(verdictOf(judge(value))).toBe('not-an-event');
  });

  it.each(['', ' ', '{', 'NaN', '{"a":NaN}', "{'a':1}", '\uFEFF{}', '{}{}', '[1,]'])(
    'is not read from %j',
    (line) => {
      expect(verdictOf(admit(line, units))).toBe('not-json');
    },
  );

  it('is read with escaped slashes in its source, and with white space around it', () => {
    const line = JSON.stringify(event(), null, 2).replaceAll('/', '\\/');
    expect(line).toContain('\\/companies\\/fenwick-water');
    expect(admit(` ${line}\r\n`, units)).toMatchObject({ accepted: true, unit: { unitId: 'u-17' } });
  });

  it.each([
    ['brinebell.salt-level.v1', 'fenwick-water', 'u-18', 'accepted'],
    ['brinebell.salt-level.v1', 'fenwick-water', 'u-19', 'unknown-unit'],
    ['brinebell.salt-level.v1', 'fenwick-water', 'constructor', 'unknown-unit'],
    ['brinebell.salt-level.v1', 'Fenwick-water', 'u-18', 'wrong-company'],
    ['brinebell.Salt-level.v1', 'fenwick-water', 'u-18', 'unknown-type'],
    ['toString', 'fenwick-water', 'u-18', 'unknown-type'],
    ['__proto__', 'fenwick-water', 'u-18', 'unknown-type'],
  ])('of type %s from %s, %s: %s', (type, company, unit, verdict) => {
    const value = { ...event(), type, source: `/companies/${company}/units/${unit}` };
    expect(verdictOf(judge(value))).toBe(verdict);
  });
});

describe('the size of a line', () => {
  // Of one to four bytes in UTF-8, and of one or two units in the string.
  it.each(['a', '\u00e9', '\u20ac', '\u{1F9C2}'])('is counted in bytes: %s', (character) => {
    const padded = (bytes: number) => {
      const value = { ...event(), pad: '' };
      const room = bytes - Buffer.byteLength(JSON.stringify(value));
      const size = Buffer.byteLength(character);
      value.pad = character.repeat(Math.floor(room / size)) + '.'.repeat(room % size);
      return JSON.stringify(value);
    };
    expect(Buffer.byteLength(padded(MOST_BYTES))).toBe(MOST_BYTES);
    expect(verdictOf(admit(padded(MOST_BYTES), units))).toBe('accepted');
    expect(verdictOf(admit(padded(MOST_BYTES + 1), units))).toBe('too-large');
  });
});

describe('data', () => {
  const litres = (value: unknown) => ({ value, unit: 'L' });
  const valid: [type: string, data: Record<string, unknown>, what: string][] = [
    ['flow-day', { ...flow, volume: litres(0) }, 'no water'],
    ['flow-day', { ...flow, flowHours: 25, longestFlowMinutes: 1_500 }, 'all of a 25-hour day'],
    ['flow-day', { ...flow, flowHours: 0, longestFlowMinutes: 0.5 }, 'half a minute'],
    ['flow-day', { ...flow, date: '2024-02-29' }, 'a leap day'],
    ['flow-day', { ...flow, date: '0050-01-01' }, 'the year 50'],
    ['flow-day', { ...flow, date: '2026-03-09' }, 'a day that ends 24 hours after the event'],
    ['flow-day', { ...flow, leak: { sure: true } }, 'a member that the contract does not name'],
    ['regeneration', { trigger: 'override' }, 'nothing but its trigger'],
    ['regeneration', { trigger: 'metered', saltAfter: { value: -1, unit: 'kg' } }, 'a noisy reading below 0'],
    ['settings', settings, 'nothing optional'],
    ['settings', { ...settings, regenerationHour: 23, clock: '23:59', mode: 'service' }, 'the last hour'],
    ['power', power, 'all of it'],
    ['service-visit', { ...visit, notes: 'n'.repeat(2_000) }, 'notes of 2,000 characters'],
    ['service-visit', { ...visit, notes: '\u{1F9C2}'.repeat(2_000) }, 'notes of 2,000 pairs of units'],
    ['away', { from: '2026-03-08', to: '2026-03-08' }, 'a single day'],
    ['at-home', period, 'a week'],
  ];
  it.each(valid)('of %s may be %j (%s)', (type, data) => {
    expect(judge(event(type, data)).accepted).toBe(true);
  });

  const invalid: [type: string, data: Record<string, unknown>, what: string][] = [
    ['flow-day', { volume: flow.volume }, 'no date'],
    ['flow-day', { date: flow.date }, 'no volume'],
    ['flow-day', { ...flow, date: '2026-02-29' }, 'no such day'],
    ['flow-day', { ...flow, date: '2026-3-8' }, 'not YYYY-MM-DD'],
    ['flow-day', { ...flow, date: '2026-03-08T00:00:00Z' }, 'a time for a date'],
    ['flow-day', { ...flow, date: '2026-03-10' }, 'a day that ends over 24 hours after the event'],
    ['flow-day', { ...flow, volume: litres(-0.001) }, 'below 0'],
    ['flow-day', { ...flow, volume: litres('240') }, 'a text for a number'],
    ['flow-day', { ...flow, volume: litres(null) }, 'null, as NaN is written'],
    ['flow-day', { ...flow, volume: 240 }, 'no unit'],
    ['flow-day', { ...flow, volume: { value: 1, unit: '[lb_av]' } }, 'a unit of another quantity'],
    ['flow-day', { ...flow, volume: { value: 1e308, unit: 'm3' } }, 'more than a double holds of gallons'],
    ['flow-day', { ...flow, peakFlow: { value: 1, unit: 'L' } }, 'a volume for a flow'],
    ['flow-day', { ...flow, flowHours: 26 }, 'more hours than a day has'],
    ['flow-day', { ...flow, flowHours: 1.5 }, 'part of an hour'],
    ['flow-day', { ...flow, longestFlowMinutes: 1_501 }, 'more minutes than a day has'],
    ['flow-day', { ...flow, peakFlow: null }, 'null for what may be left out'],
    ['regeneration', {}, 'no trigger'],
    ['regeneration', { trigger: 'calendar' }, 'a trigger that the contract does not name'],
    ['regeneration', { trigger: 'manual', durationMinutes: -1 }, 'below 0'],
    ['regeneration', { trigger: 'manual', brineDrawn: litres(-1) }, 'below 0'],
    ['settings', { ...settings, regenerationHour: 24 }, 'no such hour'],
    ['settings', { ...settings, clock: '24:00' }, 'no such minute'],
    ['settings', { ...settings, clock: '7:30' }, 'not HH:MM'],
    ['settings', { ...settings, mode: 'away' }, 'a mode that the contract does not name'],
    ['settings', { ...settings, saltDose: { value: -6, unit: 'kg' } }, 'below 0'],
    ['salt-level', {}, 'no mass'],
    ['power', { ...power, restoredAt: '2026-03-09T02:00:00' }, 'no offset'],
    ['power', { ...power, settingsKept: 'yes' }, 'a text for a boolean'],
    ['service-visit', { ...visit, technician: '' }, 'no technician'],
    ['service-visit', { ...visit, findings: 'none' }, 'a text for a list'],
    ['service-visit', { ...visit, notes: 'n'.repeat(2_001) }, 'notes of 2,001 characters'],
    ['service-visit', { ...visit, notes: '\u{1F9C2}'.repeat(2_001) }, 'notes of 2,001 pairs of units'],
    ['service-visit', { ...visit, notes: { length: { valueOf: 1 } } }, 'a length and no text'],
    ['away', { from: '2026-03-08', to: '2026-03-07' }, 'ends before it begins'],
    ['at-home', { ...period, to: '2026-03-32' }, 'no such day'],
  ];
  it.each(invalid)('of %s may not be %j (%s)', (type, data) => {
    expect(verdictOf(judge(event(type, data)))).toBe('invalid-data');
  });

  it('says where it is wrong, and what is', () => {
    const wrong = { ...flow, volume: litres(-1) };
    expect(judge(event('flow-day', wrong))).toMatchObject({
      detail: expect.stringContaining('data.volume.value'),
    });
    expect(judge(event('away', { from: '2026-03-08', to: '2026-03-07' }))).toMatchObject({
      detail: 'data.to: ends before it begins',
    });
  });

  it.each(['1e999', '-1e999'])('may not hold %s in a member that is named', (number) => {
    const line = JSON.stringify(event('salt-level', { mass: { value: 'N', unit: 'kg' } }));
    expect(verdictOf(admit(line.replace('"N"', number), units))).toBe('invalid-data');
  });
});

describe('nesting', () => {
  const nested = (levels: number) => '['.repeat(levels) + ']'.repeat(levels);
  const inData = (levels: number) =>
    JSON.stringify(event('salt-level', { ...salt, x: 'N' })).replace('"N"', nested(levels));

  it.each([64, 20_000])('of %d levels in a member of data is passed over', (levels) => {
    expect(verdictOf(admit(inData(levels), units))).toBe('accepted');
    expect(canonicalContent(inData(levels))).toBe(canonicalContent(inData(levels)));
  });

  it('of 20,000 levels in an attribute is passed over', () => {
    const line = JSON.stringify({ ...event(), x: 'N' }).replace('"N"', nested(20_000));
    expect(verdictOf(admit(line, units))).toBe('accepted');
    expect(canonicalContent(line)).toBe(canonicalContent(JSON.stringify(event())));
  });

  it('of 20,000 levels in the place of a text is no event', () => {
    for (const name of ['type', 'id', 'source', 'time', 'recordedtime', 'data']) {
      const line = JSON.stringify({ ...event(), [name]: 'N' }).replace('"N"', nested(20_000));
      expect(verdictOf(admit(line, units)), name).toBe('not-an-event');
    }
  });

  it('of 30,000 levels that never close is not JSON', () => {
    expect(verdictOf(admit('['.repeat(30_000), units))).toBe('not-json');
  });
});

describe('an event from the future', () => {
  const ahead = (ms: number) => ({ ...event(), recordedtime: formatInstant(TIME - ms) });

  it('is one over 24 hours ahead of recordedtime', () => {
    expect(verdictOf(judge(ahead(DAY)))).toBe('accepted');
    expect(verdictOf(judge(ahead(DAY + 1)))).toBe('in-the-future');
  });

  it('is one over 24 hours ahead of its receipt where it has no recordedtime', () => {
    expect(verdictOf(judge(event(), TIME - DAY))).toBe('accepted');
    expect(verdictOf(judge(event(), TIME - DAY - 1))).toBe('in-the-future');
    expect(verdictOf(judge({ ...event(), recordedtime: null }, TIME - DAY - 1))).toBe('in-the-future');
    expect(verdictOf(judge(ahead(2 * DAY), TIME))).toBe('in-the-future');
  });

  it('is not let through for saying that it will be received later than it was', () => {
    expect(verdictOf(judge(ahead(0), TIME - 2 * DAY))).toBe('in-the-future');
    expect(verdictOf(judge(ahead(0), TIME - DAY))).toBe('accepted');
  });

  it('is not looked for without either', () => {
    expect(verdictOf(judge({ ...event(), time: '2999-01-01T00:00:00Z' }))).toBe('accepted');
  });
});

describe('whatever comes', () => {
  const bases = [
    event('flow-day', { ...flow, peakFlow: { value: 1, unit: 'L/min' }, flowHours: 3 }),
    event('settings', { ...settings, clock: '01:02' }),
    event('service-visit', { ...visit, notes: 'n', saltAdded: { value: 1, unit: 'kg' } }),
    event('power', power),
    event('away', period),
  ].map((base) => ({ ...base, recordedtime: base.time }));
  const some = damaged(bases);
  const line = fc.oneof(some, some, some, fc.json(), anyText);

  const receipt = fc.integer({ min: TIME - 2 * DAY, max: TIME + 400 * DAY });

  it('is admitted or quarantined, and what is admitted can be folded and compared', () => {
    let accepted = 0;
    fc.assert(
      fc.property(line, fc.option(receipt, { nil: undefined }), (text, receivedAt) => {
        const admission = admit(text, units, receivedAt);
        if (!admission.accepted) {
          expect(QUARANTINE_REASONS).toContain(admission.reason);
          expect(admission.detail).not.toBe('');
          return;
        }
        accepted += 1;
        expect(readmit(text, admission.unit)).toEqual(admission.fact);
        const numbers = Object.values(admission.fact).filter((value) => typeof value === 'number');
        expect(numbers.every(Number.isFinite)).toBe(true);
        expect(JSON.parse(canonicalContent(text))).toHaveProperty('data');
      }),
      { numRuns: 1_500 },
    );
    expect(accepted).toBeGreaterThan(100);
  });

  it('is kept as it was sent, with when it was received', () => {
    let accepted = 0;
    fc.assert(
      fc.property(line, receipt, (text, receivedAt) => {
        const admission = admit(text, units, receivedAt);
        if (!admission.accepted) return;
        accepted += 1;
        const kept = withReceipt(text, receivedAt);
        const said = JSON.parse(text).recordedtime ? admission.fact.known : receivedAt;
        const known = Math.min(said, receivedAt);
        expect(readmit(kept, admission.unit)).toEqual({ ...admission.fact, known });
        expect(canonicalContent(kept)).toBe(canonicalContent(text));
        expect(withReceipt(kept, receivedAt + DAY)).toBe(kept);
      }),
      { numRuns: 1_500 },
    );
    expect(accepted).toBeGreaterThan(100);
  });
});
