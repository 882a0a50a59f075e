import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { shareBefore } from '../../../lib/demand/dayShare.ts';
import { reserveGallons } from '../../../lib/unit/control.ts';
import { CAPACITY_TOLERANCE, settledBounds } from '../../../lib/unit/controlCount.ts';
import { UnitHistory } from '../../../lib/unit/history.ts';
import { rulesSchema } from '../../../lib/watch/rules.ts';
import { admit } from '../../../shared/admission.ts';
import { flowDay, regeneration, type Wire, zoneOf } from '../../support/events.ts';
import { registryOf, unitRecord } from '../../support/fleet.ts';

const ZONE = zoneOf('America/New_York');
const FIRST_DATE = Date.parse('2026-01-05T00:00:00Z') / 86_400_000;
const rules = rulesSchema.parse({}).fold;

/** A day's use, and how much more of it than usual is drawn early, from -1 to 1 standard deviations. */
const day = fc.record({
  gallons: fc.double({ min: 0, max: 420, noNaN: true }),
  early: fc.double({ min: -1, max: 1, noNaN: true }),
});

/** Plays a control of a capacity as it truly counts, whatever the ledger thinks of it. */
function play(days: readonly { gallons: number; early: number }[], capacity: number, alternating: boolean) {
  const events: Wire[] = [];
  const previous: number[] = [];
  let counted = 0;
  days.forEach(({ gallons, early }, index) => {
    const date = FIRST_DATE + index;
    const hour = alternating ? 1 + ((index * 7) % 22) : 2;
    const usual = shareBefore(hour);
    const before = alternating ? Math.max(0, usual + early * usual * (1 - usual)) * gallons : 0;
    // One of a pair regenerates within the day; where it does not fit the hour of the story, it does so on another day.
    const isDue = alternating ? counted + before >= capacity : counted + reserveGallons(previous) >= capacity;
    if (isDue) {
      events.push(regeneration(ZONE, date, hour));
      counted = -before;
    }
    events.push(flowDay(ZONE, date, gallons));
    counted += gallons;
    previous.push(gallons);
  });
  return events;
}

describe('the count of a control', () => {
  it('never bounds its capacity where it is not, whenever the water of a day was drawn', () => {
    let bounds = 0;
    fc.assert(
      fc.property(
        fc.array(day, { minLength: 40, maxLength: 60 }),
        fc.double({ min: 700, max: 1600, noNaN: true }),
        fc.boolean(),
        (days, capacity, alternating) => {
          const { units } = registryOf(unitRecord({ arrangement: alternating ? 'alternating' : 'single' }));
          const [unit] = units.values();
          if (!unit) throw new Error('no unit');
          const history = new UnitHistory(unit, rules);
          for (const event of play(days, capacity, alternating)) {
            const admission = admit(JSON.stringify(event), units);
            if (!admission.accepted) throw new Error(admission.detail);
            history.learn(admission.fact);
            for (const { overGallons, upToGallons } of settledBounds(history.state.count)) {
              bounds += 1;
              expect(overGallons * (1 - CAPACITY_TOLERANCE)).toBeLessThan(capacity);
              expect(upToGallons * (1 + CAPACITY_TOLERANCE)).toBeGreaterThan(capacity);
            }
          }
        },
      ),
      { numRuns: 60 },
    );
    expect(bounds).toBeGreaterThan(100);
  });
});
