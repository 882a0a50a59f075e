import { expect, it } from 'vitest';
import { attentionOf } from '../../../lib/advice/attention.ts';
import { weightOf } from '../../../lib/advice/harm.ts';
import { byKnown, follow } from '../../../lib/live/follow.ts';
import { newHead } from '../../../lib/live/head.ts';
import { rulesSchema } from '../../../lib/watch/rules.ts';
import { admit } from '../../../shared/admission.ts';
import { unitRecordSchema } from '../../../shared/registry.ts';
import { toUnit } from '../../../shared/toUnit.ts';
import { registryOf } from '../../support/fleet.ts';
import { events, records } from '../../support/smallFleet.ts';

const rules = rulesSchema.parse({});

/** The row of a unit of the small fleet, on the day of the story before which it is told. */
function rowOn(unitId: string, day: number) {
  const record = records.find((each) => each.unitId === unitId);
  const parsed = unitRecordSchema().parse(record);
  const unit = toUnit(parsed);
  const { units } = registryOf(...records);
  const until = Date.UTC(2026, 2, 1 + day);
  const facts = events
    .flatMap((event) => {
      const admission = admit(JSON.stringify(event), units);
      return admission.accepted && admission.unit.unitId === unitId ? [admission.fact] : [];
    })
    .filter(({ known }) => known < until);
  const { head } = follow(unit, newHead(unit, rules.fold), facts.sort(byKnown), { rules });
  return attentionOf(parsed, head, rules);
}

it('has no row for a unit of which nothing is open', () => {
  expect(rowOn('u-18', 10)).toBeNull();
});

it('counts the days of a stall on which the water has become hard unseen, and weighs more by the day', () => {
  const rows = [25, 27, 29].map((day) => rowOn('u-19', day));
  for (const row of rows)
    expect(row).toMatchObject({ kind: 'no-flow', siteId: 'site-u-19', region: 'high-basin' });
  const [first, second, third] = rows.map((row) => row?.hardDaysSoFar ?? -1);
  expect(second).toBeGreaterThanOrEqual(first ?? 0);
  expect(third).toBeGreaterThan(first ?? 0);
  expect(rows[2]?.weight).toBeGreaterThan(rows[0]?.weight ?? 0);
  expect(rows[2]?.hardDaysExpected).toBeGreaterThan(13);
  // It stalled on the 16th day; the bed holds some six days of its use.
  expect(third).toBeLessThanOrEqual(28 - 15);
});

it('puts hard water before all else that is as probable', () => {
  const episode = (kind: 'no-flow' | 'clock-off' | 'continuous-flow') => ({
    ...{ kind, cause: null, causes: [], severity: 'soon' as const, raisedAt: 0, clearedAt: null },
    ...{ summary: '', evidence: {}, consequences: [] },
    history: [{ at: 0, severity: 'soon' as const, probability: 0.9 }],
  });
  const hard = { hardDaysSoFar: 3, hardDaysExpected: 12 };
  expect(weightOf(episode('no-flow'), hard)).toBeCloseTo(0.9 * (3 + 12 + 1), 9);
  expect(weightOf(episode('no-flow'), hard)).toBeGreaterThan(weightOf(episode('continuous-flow'), hard));
  expect(weightOf(episode('continuous-flow'), hard)).toBeGreaterThan(weightOf(episode('clock-off'), hard));
});
