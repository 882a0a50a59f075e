import fc from 'fast-check';
import { beforeAll, expect, test, vi } from 'vitest';
import { ownPath } from '../../../console/signIn/journey.ts';

const ORIGIN = 'https://console.example';

beforeAll(() => {
  vi.stubGlobal('location', { origin: ORIGIN });
});

const piece = fc.constantFrom(
  '/',
  '//',
  '\\',
  'https:',
  'javascript:',
  '@',
  'evil.example',
  ORIGIN,
  '..',
  '?',
  '#',
  '%2f',
  '\t',
  ' ',
);

test('whatever page somebody is to come back to, it is one of this console', () => {
  fc.assert(
    fc.property(fc.array(fc.oneof(piece, fc.string())), (pieces) => {
      const path = ownPath(pieces.join(''));
      expect(path).toMatch(/^\//);
      expect(new URL(path, ORIGIN).origin).toBe(ORIGIN);
      expect(path).not.toMatch(/^\/sign(ed)?-in\b/);
    }),
    { numRuns: 2_000 },
  );
});

test('a page of this console stays as it is', () => {
  expect(ownPath('/units/unit-0017?from=2026-01-01#salt')).toBe('/units/unit-0017?from=2026-01-01#salt');
});
