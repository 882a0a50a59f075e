import fc from 'fast-check';
import { expect, it } from 'vitest';
import { noonAfter } from '../../../lib/live/noons.ts';
import { zoneOf } from '../../support/events.ts';
import { noonsBetween } from '../../support/noonsBetween.ts';

const HOUR = 3_600_000;
const FROM = Date.parse('2011-06-01T00:00:00Z');

// Apia left out 30 December 2011, and Kiritimati is ahead of all others; in Lord Howe summer time is half an hour.
const zones = ['America/New_York', 'Pacific/Apia', 'Pacific/Kiritimati', 'Australia/Lord_Howe', 'UTC'];

it('comes from noon to noon as from date to date', () => {
  fc.assert(
    fc.property(
      fc.constantFrom(...zones),
      fc.integer({ min: 0, max: 400 * 24 }),
      fc.integer({ min: 0, max: 90 * 24 }),
      (name, start, hours) => {
        const zone = zoneOf(name);
        const after = FROM + start * HOUR;
        const upTo = after + hours * HOUR;
        const noons: number[] = [];
        for (let noon = noonAfter(zone, after); noon <= upTo; noon = noonAfter(zone, noon)) noons.push(noon);
        // Of a date that a zone leaves out the noon is that of the next, which is one of them.
        expect(noons).toEqual([...new Set(noonsBetween(zone, after, upTo))]);
        expect(noons.every((noon) => zone.hourAt(noon) === 12)).toBe(true);
      },
    ),
  );
});
