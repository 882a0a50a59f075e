import fc from 'fast-check';
import { expect, it } from 'vitest';
import * as ofTheCloud from '../../../infra/aws/parts/zoneData.ts';
import * as ofIntl from '../../../shared/time/zoneData.ts';

const ZONES = [...Intl.supportedValuesOf('timeZone'), 'US/Eastern', 'Etc/GMT+5', 'EST5EDT', 'UTC', 'GB'];
const name = fc.oneof(
  fc.constantFrom(...ZONES),
  fc.constantFrom(
    'Nowhere/Here',
    'America/Nowhere',
    'america/new_york',
    'US/',
    'GMT+2',
    'Europe/../London',
    '',
  ),
);
const instant = fc.integer({ min: Date.UTC(1980, 0, 1), max: Date.UTC(2037, 11, 31) });

it('functions of the cloud find the same zones and offsets without Intl, and stand in their own zone after', () => {
  const before = process.env.TZ;
  const own = new Date(0).getTimezoneOffset();
  fc.assert(
    fc.property(name, instant, (zone, at) => {
      expect(ofTheCloud.isZone(zone)).toBe(ofIntl.isZone(zone));
      if (!ofIntl.isZone(zone)) return;
      const offset = ofIntl.lookUp(zone, (offsetAt) => offsetAt(at));
      expect(ofTheCloud.lookUp(zone, (offsetAt) => offsetAt(at))).toBe(offset);
      expect(new Date(0).getTimezoneOffset()).toBe(own);
    }),
    { numRuns: 500 },
  );
  expect(process.env.TZ ?? 'UTC').toBe(before ?? 'UTC');
});

it('asks Intl nothing for UTC, and for a place that has a time of its own', () => {
  const { DateTimeFormat } = Intl;
  Intl.DateTimeFormat = new Proxy(DateTimeFormat, {
    construct() {
      throw new Error('asked');
    },
  });
  try {
    expect(ofTheCloud.isZone('UTC')).toBe(true);
    expect(ofTheCloud.lookUp('UTC', (offsetAt) => offsetAt(Date.UTC(2026, 6, 1)))).toBe(0);
    expect(ofTheCloud.isZone('America/New_York')).toBe(true);
    expect(ofTheCloud.lookUp('America/New_York', (offsetAt) => offsetAt(Date.UTC(2026, 6, 1)))).toBe(
      -4 * 3_600_000,
    );
  } finally {
    Intl.DateTimeFormat = DateTimeFormat;
  }
});
