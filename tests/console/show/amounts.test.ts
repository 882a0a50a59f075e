import fc from 'fast-check';
import { expect, test } from 'vitest';
import { amount, percent, type QuantityName } from '../../../console/show/amounts.ts';

const us = { units: 'us', locale: 'en-US' } as const;
const metric = { units: 'metric', locale: 'en-US' } as const;
const german = { units: 'metric', locale: 'de-DE' } as const;

// 1 gal = 231 in3 = 3.785411784 L, 1 lb = 0.45359237 kg, 1 gr = 64.79891 mg: NIST Special Publication 811, appendix B.8.
const KNOWN: [QuantityName, number, string, string][] = [
  ['gallons', 1000, '1,000 gal', '3,785 L'],
  ['lb', 40, '40 lb', '18.1 kg'],
  ['grains', 30_000, '30,000 grains', '1,944 g'],
  ['gpg', 10, '10 gpg', '171 mg/L'],
];

test.each(KNOWN)('%s: %d is %s, or %s', (of, value, inUs, inMetric) => {
  expect(amount(value, of, us).replaceAll('\u00a0', ' ')).toBe(inUs);
  expect(amount(value, of, metric).replaceAll('\u00a0', ' ')).toBe(inMetric);
});

test('numbers are written as the locale has it', () => {
  expect(amount(1000, 'gallons', german)).toBe('3.785\u00a0L');
});

test('what is not quite certain or impossible is never told as that', () => {
  fc.assert(
    fc.property(fc.double({ min: 0, max: 1, noNaN: true, minExcluded: true, maxExcluded: true }), (share) => {
      expect(['0%', '100%']).not.toContain(percent(share, us));
    }),
  );
});
