import { expect, it } from 'vitest';
import { pastUse } from '../../../../lib/advice/settings/pastUse.ts';
import type { FlowDay } from '../../../../shared/facts.ts';

const LAST = 20_800;

function flowDay(date: number, gallons: number): FlowDay {
  const at = date * 86_400_000;
  return { kind: 'flow-day', id: `d${date}`, time: at, known: at, at, date, gallons };
}

const year = Array.from({ length: 400 }, (_, index) => flowDay(LAST - index, 100 + ((index * 37) % 90)));

it('costs no more where one event lies far back than where it lies a few years back, and says the same', () => {
  const near = pastUse([flowDay(LAST - 3_000, 5_000), ...year]);
  // Passed day by day this would take an hour: one forged date must not stop all who ask.
  const far = pastUse([flowDay(LAST - 3_000_000_000, 5_000), ...year]);
  expect(far).toEqual(near);
  expect(far?.gallons).toHaveLength(365);
  expect(far?.missingDays).toBe(0);
});

it('fills a year of which only its ends are reported', () => {
  const filled = pastUse([flowDay(LAST - 2_000, 150), flowDay(LAST - 364, 150), flowDay(LAST, 150)]);
  expect(filled?.missingDays).toBe(363);
  expect(filled?.gallons.every((gallons) => gallons > 0)).toBe(true);
});
