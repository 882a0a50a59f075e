import { isDeepStrictEqual } from 'node:util';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { canonicalContent } from '../../shared/canonicalContent.ts';
import { formatInstant } from '../../shared/time/instant.ts';
import { wire } from '../support/events.ts';

const TIME = Date.parse('2026-03-09T04:00:00Z');
const data = fc.dictionary(fc.string(), fc.jsonValue());
const time = fc.integer({ min: 0, max: TIME });

/** The same value with the members of each object the other way round. */
function turned(value: unknown): unknown {
  if (Array.isArray(value)) return value.map(turned);
  if (typeof value !== 'object' || value === null) return value;
  const members = Object.entries(value).map(([name, member]): [string, unknown] => [name, turned(member)]);
  return Object.fromEntries(members.reverse());
}

describe('the content of an event', () => {
  it('is the same in whatever order and layout, whenever it was received', () => {
    fc.assert(
      fc.property(data, time, fc.nat(4), (some, recorded, indent) => {
        const event = wire('flow-day', 'e-1', TIME, some);
        const again = { ...event, recordedtime: formatInstant(recorded), subject: 'an attribute' };
        const copy = JSON.stringify(turned(again), null, indent);
        expect(canonicalContent(copy)).toBe(canonicalContent(JSON.stringify(event)));
      }),
    );
  });

  it('differs as soon as type, time or a value of data does', () => {
    const parts = fc.tuple(fc.constantFrom('away', 'at-home'), fc.constantFrom(TIME, TIME + 1), data);
    /** Two that have nothing, something or all in common. */
    const pair = fc.tuple(parts, parts, fc.nat(7)).map(([one, other, shared]) => {
      const second = other.map((part, index) => (shared & (1 << index) ? one[index] : part));
      return [one, second as typeof one] as const;
    });
    fc.assert(
      fc.property(pair, (both) => {
        const lines = both.map(([type, at, some]) => JSON.stringify(wire(type, 'e-1', at, some)));
        const [first = '', second = ''] = lines.map(canonicalContent);
        const [one, other] = lines.map((line) => JSON.parse(line));
        expect(first === second).toBe(isDeepStrictEqual(one, other));
      }),
      { numRuns: 500 },
    );
  });

  it('counts a number as a value, not as it is spelled', () => {
    const line = JSON.stringify(wire('salt-level', 'e-1', TIME, { mass: { value: 80, unit: 'kg' } }));
    for (const spelling of ['80.0', '8e1', '800E-1']) {
      expect(canonicalContent(line.replace('80', spelling))).toBe(canonicalContent(line));
    }
    expect(canonicalContent(line.replace('80', '80.000000000001'))).not.toBe(canonicalContent(line));
  });

  it.each([
    ['half of a surrogate pair', '"\\uD83E"'],
    ['a number too large for a double', '1e999'],
    ['deep nesting', '['.repeat(30_000) + ']'.repeat(30_000)],
  ])('of what RFC 8785 cannot write (%s) is the line itself', (_, value) => {
    const line = JSON.stringify(wire('salt-level', 'e-1', TIME, { x: 'N' })).replace('"N"', value);
    expect(canonicalContent(line)).toBe(line);
  });
});
