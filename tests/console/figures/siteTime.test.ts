import fc from 'fast-check';
import { expect, test } from 'vitest';
import { nearest } from '../../../console/figures/nearest.ts';
import { dateOf, siteTime, startOf } from '../../../console/figures/siteTime.ts';

test('something stands where the clock on the wall had it', () => {
  // Clocks in Denver go from 02:00 to 03:00 on 8 March 2026 (IANA tzdata): 09:30 UTC is 03:30 there, not 02:30.
  expect(siteTime('2026-03-08T09:30:00Z', 'America/Denver')).toBe(startOf('2026-03-08') + 3.5 * 3_600_000);
  expect(siteTime('2026-03-08T08:30:00Z', 'America/Denver')).toBe(startOf('2026-03-08') + 1.5 * 3_600_000);
  // A site that is 5:45 ahead of UTC.
  expect(dateOf(siteTime('2026-03-08T18:20:00Z', 'Asia/Kathmandu'))).toBe('2026-03-09');
});

test('the nearest reading is as near as any', () => {
  const places = fc.array(fc.integer({ min: -1000, max: 1000 }), { minLength: 1 });
  fc.assert(
    fc.property(places, fc.integer({ min: -1200, max: 1200 }), (given, at) => {
      const found =
        given[
          nearest(
            given.map((each) => ({ at: each, words: '' })),
            at,
          )
        ] ?? Number.NaN;
      expect(Math.abs(found - at)).toBe(Math.min(...given.map((each) => Math.abs(each - at))));
    }),
  );
});
