import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Delivery } from '../../../../lib/salt/deliveries/delivery.ts';
import { deliveryOf } from '../../../../lib/salt/deliveries/deliveryOf.ts';
import { UnitHistory } from '../../../../lib/unit/history.ts';
import type { UnitState } from '../../../../lib/unit/state.ts';
import { rulesSchema } from '../../../../lib/watch/rules.ts';
import { admit } from '../../../../shared/admission.ts';
import type { Unit } from '../../../../shared/registry.ts';
import { type Wire, wire, zoneOf } from '../../../support/events.ts';
import { registryOf, unitRecord } from '../../../support/fleet.ts';
import { FIRST_DATE, play } from '../../../support/household.ts';

const zone = zoneOf('America/New_York');
const HOUR = 3_600_000;
const DAYS = 90;
const rules = rulesSchema.parse({});
const lb = (value: number) => ({ value, unit: '[lb_av]' });
const TANK = { saltTank: lb(200) };
const BARE = { ...TANK, senses: [] };

/** 160 gallons a day: the control, of 1,000 gallons and a reserve of a day's, regenerates each sixth day. */
const steady = (days = DAYS) => play({ days, gallons: () => 160 });
const levels = (shown: (day: number) => number, days = DAYS) =>
  Array.from({ length: days }, (_, day) => {
    const morning = zone.startOf(FIRST_DATE + day) + 6 * HOUR;
    return wire('salt-level', `level-${day}`, morning, { mass: lb(shown(day)) }, morning + 60_000);
  });
const brought = (day: number, saltAddedLb: number) => {
  const time = zone.startOf(FIRST_DATE + day) + 15 * HOUR;
  const visit = { technician: 'tech-1', findings: [], work: [], saltAdded: lb(saltAddedLb) };
  return wire('service-visit', `visit-${day}`, time, visit, time + 60_000);
};

/** A unit after a story, and its state. */
function lived(
  events: readonly Wire[],
  over: Record<string, unknown> = TANK,
): { unit: Unit; state: UnitState } {
  const { units } = registryOf(unitRecord(over));
  const [unit] = units.values();
  if (!unit) throw new Error('no unit');
  const history = new UnitHistory(unit, rules.fold);
  const known = [...events].sort(
    (a, b) => Date.parse(a.recordedtime ?? '') - Date.parse(b.recordedtime ?? ''),
  );
  for (const event of known) {
    const admission = admit(JSON.stringify(event), units);
    if (admission.accepted) history.learn(admission.fact);
  }
  return { unit, state: history.state };
}

/** Noon on the n-th day after the first. */
const noon = (day: number) => zone.startOf(FIRST_DATE + day) + 12 * HOUR;
const needOf = ({ unit, state }: ReturnType<typeof lived>, day = DAYS) =>
  deliveryOf(unit, state, rules, noon(day));

function datedOf(told: ReturnType<typeof lived>, day = DAYS): Delivery {
  const need = needOf(told, day);
  if (need.is !== 'dated') throw new Error(`no date: ${JSON.stringify(need)}`);
  return need.delivery;
}

/** A tank that goes down by 6 lb each sixth day, from 106 lb on, read to a pound or so. */
const sinking = (day: number) => 106 - 6 * Math.floor(day / 6) + ((day * 7) % 3) - 1;

describe('a house with a level sensor', () => {
  it('is served in time: by hand, 22 lb are three doses of 6 lb, 18 days, and the fourth comes six days later', () => {
    const { state, unit } = lived([...steady(), ...levels(sinking)]);
    const { by, runsOut, levelLb, roomLb, bags, levelBy, isEmpty, lbPerWeek } = datedOf({ state, unit });
    expect(Math.abs(levelLb - 22)).toBeLessThan(3);
    const lacks = (state.regeneratedOn ?? 0) + 4 * 6;
    expect(Math.abs((runsOut.p50 ?? 0) - lacks)).toBeLessThanOrEqual(2);
    expect(by).toBe(runsOut.p10 - 1);
    expect(by).toBeLessThan(lacks);
    expect(by).toBeGreaterThan(lacks - 10);
    // 200 lb less the one dose or two that are left by then: four bags of 40 lb, and not five.
    expect(roomLb).toBeGreaterThan(180);
    expect([bags, levelBy, isEmpty]).toEqual([4, 'sensor', false]);
    // 6 lb in six days.
    expect(Math.abs(lbPerWeek - 7)).toBeLessThan(1);
  });

  it('is never served earlier for having more salt', () => {
    const told = lived([...steady(), ...levels(sinking)]);
    const { state } = told;
    const withLb = (salt: number) => {
      const saltUse = { ...state.memories.saltUse, lb: salt };
      return datedOf({ ...told, state: { ...state, memories: { ...state.memories, saltUse } } });
    };
    fc.assert(
      fc.property(
        fc.double({ min: 0, max: 150, noNaN: true }),
        fc.double({ min: 0, max: 100, noNaN: true }),
        (salt, more) => {
          const before = withLb(salt);
          const later = withLb(salt + more);
          expect(later.by).toBeGreaterThanOrEqual(before.by);
          // What a house takes is what has room when it comes up, whatever it has now.
          expect(later.roomLb).toBeLessThanOrEqual(200);
        },
      ),
      { numRuns: 60 },
    );
  });

  it('whose tank is of unknown size takes what the rules say', () => {
    const { roomLb, bags } = datedOf(lived([...steady(), ...levels(sinking)], {}));
    expect([roomLb, bags]).toEqual([null, rules.deliveries.bagsUnknownTank]);
  });

  it('is late at once where regenerations find no salt', () => {
    const found = lived([...steady(), ...levels((day) => Math.max(2, sinking(day) - 60) + (day % 2))]);
    const { by, isEmpty } = datedOf(found);
    expect(isEmpty).toBe(true);
    expect(by).toBeLessThan(FIRST_DATE + DAYS);
  });

  it('whose sensor sticks is told from what was read before, and says so', () => {
    const stuck = lived([...steady(), ...levels((day) => (day < 40 ? sinking(day) : 66))]);
    expect(datedOf(stuck).levelBy).toBe('stuck-sensor');
    expect(Math.abs(datedOf(stuck).levelLb - 22)).toBeLessThan(12);
  });

  it('that is silent keeps its date, less sure, until too long nothing is known of it', () => {
    const told = lived([...steady(), ...levels(sinking)]);
    const { by } = datedOf(told);
    expect(datedOf(told, DAYS + 30).by).toBe(by);
    expect(needOf(told, DAYS + 70)).toMatchObject({ is: 'by-rate', byRate: { why: 'long-silent' } });
  });

  it('in set-up mode uses none, and one that never reported has none to tell of', () => {
    const { unit, state } = lived([...steady(), ...levels(sinking)]);
    expect(needOf({ unit, state: { ...state, inService: false } })).toEqual({ is: 'none', why: 'set-up' });
    expect(needOf(lived([]))).toEqual({ is: 'none', why: 'nothing-reported' });
  });
});

describe('a house without one', () => {
  it('has a rate and no date: 6 lb in six days', () => {
    const need = needOf(lived(steady(), BARE));
    expect(need).toMatchObject({ is: 'by-rate', byRate: { why: 'no-sensor', bags: 4, round: null } });
    if (need.is === 'by-rate') expect(Math.abs(need.byRate.lbPerWeek - 7)).toBeLessThan(1.5);
    const sensed = lived(steady(), TANK);
    expect(needOf(sensed)).toMatchObject({ is: 'by-rate', byRate: { why: 'not-read' } });
  });

  it('has a date once salt was brought: between the bags and a full tank, less the doses since', () => {
    // 160 lb on day 30: 160 to 200 lb then, and ten doses by day 90.
    const { levelLb, levelBy, levelDeviationLb } = datedOf(lived([...steady(), brought(30, 160)], BARE));
    expect(levelBy).toBe('balance');
    expect(Math.abs(levelLb - 120)).toBeLessThanOrEqual(6);
    expect(levelDeviationLb).toBeGreaterThan(40 / Math.sqrt(12));
    const more = datedOf(lived([...steady(), brought(30, 160), brought(70, 80)], BARE));
    expect(more.by).toBeGreaterThan(datedOf(lived([...steady(), brought(30, 160)], BARE)).by);
    // Nothing is known where the size of the tank is not.
    expect(needOf(lived([...steady(), brought(30, 160)], { senses: [] })).is).toBe('by-rate');
  });

  it('is known no longer once the tank should have run out by all that was brought', () => {
    // 40 lb into 60: ten doses at the most, in 60 days.
    const small = { senses: [], saltTank: lb(60) };
    const late = datedOf(lived([...steady(60), brought(2, 40)], small), 60);
    expect(late.by).toBeLessThan(FIRST_DATE + 60 + 7);
    expect(needOf(lived([...steady(90), brought(2, 40)], small)).is).toBe('by-rate');
  });
});
