import { expect, test } from 'vitest';
import { cautionsOf } from '../../../../lib/advice/region/cautions.ts';
import { replayedOf } from '../../../../lib/advice/region/replayedDays.ts';
import { parseLocalDate } from '../../../../shared/time/localDate.ts';

const span = (from: string, days: number) => {
  const first = parseLocalDate(from) ?? 0;
  return { from: first, to: first + days - 1, days };
};
const whole = span('2025-04-01', 365);
const summer = span('2026-05-10', 182);
const said = (units: readonly ReturnType<typeof span>[], doses = { lower: 0, higher: 0 }) =>
  cautionsOf({ doseLbPerCubicFoot: 6 }, { doses, replayed: replayedOf(units) }).join(' ');

test('a year that rests on a summer is told as that, and one on a few short pasts with how many they are', () => {
  expect(said([summer, summer, whole])).toMatch(
    /from 182 days, May to November .*other seasons are not in it/,
  );
  expect(said([summer, whole, whole])).toMatch(/Of 1 unit .* fewer than 330 days, at the least from 182/);
  expect(said([whole])).not.toMatch(/season/);
  expect(said([])).not.toMatch(/season/);
});

test('what a dose brings follows the way in which doses change', () => {
  expect(said([whole], { lower: 2, higher: 0 })).toMatch(/^Less salt/);
  expect(said([whole], { lower: 0, higher: 2 })).toMatch(/^More salt/);
  expect(said([whole], { lower: 0, higher: 0 })).not.toMatch(/(Less|More) salt a regeneration/);
  expect(said([whole])).toMatch(/curve that is partly from memory; below 6 lb a cubic foot/);
});
