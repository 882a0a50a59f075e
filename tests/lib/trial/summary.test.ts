import fc from 'fast-check';
import { expect, it } from 'vitest';
import { compareAlerts } from '../../../lib/trial/compare.ts';
import { rowOf } from '../../../lib/trial/row.ts';
import { trialSummaryOf, trialSummarySchema } from '../../../lib/trial/summary.ts';
import { addTally, addUnit, emptyTally, tallySchema } from '../../../lib/trial/tally.ts';
import type { UnitTrial } from '../../../lib/trial/tryRules.ts';
import { rulesSchema } from '../../../lib/watch/rules.ts';
import { unitAlerts } from './alerts.ts';

const rules = rulesSchema.parse({});
const run = { present: rules, proposed: rules, until: 0, notTried: [], readWhole: true };

const fleet = fc
  .array(fc.tuple(unitAlerts, unitAlerts, fc.nat(900)), { maxLength: 8 })
  .map((units): UnitTrial[] =>
    units.map(([before, after, days], index) => {
      const unitId = `u-${index}`;
      const rows = compareAlerts(before, after).map((pair) => rowOf(unitId, pair));
      return { unitId, days, rows, accepted: days };
    }),
  );

function tallyOf(trials: readonly UnitTrial[]) {
  const tally = emptyTally();
  for (const trial of trials) addUnit(tally, trial);
  return tally;
}

it('adds up, however a fleet is parted and put together, also through JSON', () => {
  const parted = fleet.chain((trials) =>
    fc.tuple(
      fc.constant(trials),
      fc.array(fc.nat(2), { minLength: trials.length, maxLength: trials.length }),
    ),
  );
  fc.assert(
    fc.property(parted, ([trials, parts]) => {
      const whole = trialSummaryOf(tallyOf(trials), run);
      const sum = emptyTally();
      for (const part of [2, 0, 1]) {
        const some = tallyOf(trials.filter((_, index) => parts[index] === part));
        addTally(sum, tallySchema.parse(JSON.parse(JSON.stringify(some))));
      }
      expect(trialSummaryOf(sum, run)).toEqual(whole);
      expect(trialSummarySchema.parse(JSON.parse(JSON.stringify(whole)))).toEqual(whole);
    }),
  );
});

it('counts what the rows say', () => {
  fc.assert(
    fc.property(fleet, (trials) => {
      const rows = trials.flatMap((trial) => trial.rows);
      const { alerts, byKind, weeks, unitsTouched, units } = trialSummaryOf(tallyOf(trials), run);
      expect(units).toBe(trials.length);
      for (const side of ['before', 'after'] as const) {
        const all = rows.filter((row) => row[side] !== null);
        expect(alerts[side]).toBe(all.length);
        expect(weeks.reduce((sum, week) => sum + week[side], 0)).toBe(all.length);
        for (const [kind, of] of Object.entries(byKind))
          expect(of[side]).toBe(all.filter((row) => row.kind === kind).length);
      }
      const { same, moved, gone, new: fresh } = alerts;
      expect([same + moved + gone, same + moved + fresh]).toEqual([alerts.before, alerts.after]);
      const touched = rows.filter(({ change }) => change !== 'same').map(({ unitId }) => unitId);
      expect(unitsTouched).toBe(new Set(touched).size);
      // The median by its definition: as many below it as above.
      const days = rows.flatMap((row) => (row.moves.includes('raised') ? [row.raisedDays ?? 0] : []));
      const { medianRaisedDays: median } = alerts;
      if (days.length === 0) {
        expect(median).toBe(null);
        return;
      }
      const half = days.length / 2;
      expect(days.filter((each) => each < (median ?? 0) - 1e-9).length).toBeLessThanOrEqual(half);
      expect(days.filter((each) => each > (median ?? 0) + 1e-9).length).toBeLessThanOrEqual(half);
    }),
  );
});
