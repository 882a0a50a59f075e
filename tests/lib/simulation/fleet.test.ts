import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { type FaultMix, parseFaultMix } from '../../../lib/simulation/faultMix.ts';
import { FAULT_NAMES } from '../../../lib/simulation/faults.ts';
import { type FleetOptions, planFleet, type UnitPlan } from '../../../lib/simulation/plan.ts';
import { simulateFleet, simulateUnit } from '../../../lib/simulation/simulate.ts';
import { recordOf } from '../../../lib/simulation/wire.ts';
import { admit } from '../../../shared/admission.ts';
import { readRegistry } from '../../../shared/registry.ts';
import { parseLocalDate } from '../../../shared/time/localDate.ts';

const START = parseLocalDate('2025-01-01') ?? 0;
const seeds = fc.integer({ min: 0, max: 0xffff_ffff });

function fleet(options: Partial<FleetOptions> & { seed: number }) {
  const plans = planFleet({
    units: 8,
    days: 120,
    start: START,
    faults: parseFaultMix('balanced'),
    ...options,
  });
  const { units, problems } = readRegistry(JSON.stringify(plans.map(({ profile }) => recordOf(profile))));
  return { plans, units, problems };
}

function read(plans: ReturnType<typeof planFleet>, seed: number, untidy: number) {
  const lines: string[] = [];
  const stream = simulateFleet(plans, { seed, untidy });
  let day = stream.next();
  for (; !day.done; day = stream.next()) lines.push(...day.value);
  return { lines, outcome: day.value };
}

describe('a fleet', () => {
  test('is the same for the same seed, and another for another', () => {
    fc.assert(
      fc.property(seeds, (seed) => {
        const one = read(fleet({ seed }).plans, seed, 0.1);
        expect(read(fleet({ seed }).plans, seed, 0.1)).toEqual(one);
        const next = (seed + 1) % 0x1_0000_0000;
        expect(read(fleet({ seed: next }).plans, next, 0.1).lines).not.toEqual(one.lines);
      }),
      { numRuns: 4 },
    );
  });

  test('sends nothing but what is admitted, in the order in which it is received, and all of it', () => {
    fc.assert(
      fc.property(seeds, (seed) => {
        const { plans, units, problems } = fleet({ seed, days: 200 });
        expect(problems).toEqual([]);
        const { lines, outcome } = read(plans, seed, 0);
        const received = lines.map((line) => {
          const admission = admit(line, units);
          expect(admission, line).toMatchObject({ accepted: true });
          return admission.accepted ? admission.fact.known : Number.NaN;
        });
        expect(received).toEqual(received.toSorted((a, b) => a - b));
        const alone = plans.map((plan) => simulateUnit(plan));
        const sent = alone.flatMap(({ events }) => events.map((event) => JSON.stringify(event)));
        expect(lines.toSorted()).toEqual(sent.toSorted());
        expect(outcome.truth).toEqual(alone.flatMap(({ truth }) => truth));
      }),
      { numRuns: 4 },
    );
  });

  test('that is untidy still accounts for every line', () => {
    fc.assert(
      fc.property(seeds, fc.double({ min: 0.2, max: 1, noNaN: true }), (seed, untidy) => {
        const { plans, units } = fleet({ seed });
        const tidy = read(plans, seed, 0).lines.length;
        const { lines, outcome } = read(plans, seed, untidy);
        const { duplicate, corrected, malformed, missing } = outcome.untidy;
        expect(lines.length).toBe(tidy + duplicate + corrected + malformed - missing);
        expect(outcome.lines).toBe(lines.length);
        const verdicts = lines.map((line) => admit(line, units));
        expect(verdicts.filter(({ accepted }) => !accepted)).toHaveLength(malformed);
        expect(Math.min(...Object.values(outcome.untidy))).toBeGreaterThan(0);
        const received = verdicts.flatMap((each) => (each.accepted ? [each.fact.known] : []));
        expect(received).toEqual(received.toSorted((a, b) => a - b));
      }),
      { numRuns: 4 },
    );
  });

  test('has the same households and softeners whatever is wrong with them', () => {
    const { plans: sound } = fleet({ seed: 11, faults: {} });
    const { plans: spoilt } = fleet({ seed: 11, faults: { 'brine-not-drawn': 1 } });
    const butFault = ({ profile, use, confounders }: UnitPlan) => ({ profile, use, confounders });
    expect(spoilt.map(butFault)).toEqual(sound.map(butFault));
  });
});

describe('a mix of faults', () => {
  test('is met to the unit', () => {
    const kinds = FAULT_NAMES.length;
    const shares = fc.array(fc.integer({ min: 0, max: Math.floor(100 / kinds) }), {
      minLength: kinds,
      maxLength: kinds,
    });
    fc.assert(
      fc.property(seeds, shares, (seed, hundredths) => {
        const mix: FaultMix = Object.fromEntries(
          FAULT_NAMES.map((name, i) => [name, (hundredths[i] ?? 0) / 100]),
        );
        const faults = fleet({ seed, units: 100, days: 5, faults: mix }).plans.map(
          ({ fault }) => fault?.name,
        );
        FAULT_NAMES.forEach((name, i) => {
          expect(faults.filter((each) => each === name)).toHaveLength(hundredths[i] ?? 0);
        });
      }),
      { numRuns: 4 },
    );
  });

  test('is read from its name or its shares', () => {
    expect(parseFaultMix('none')).toEqual({});
    expect(parseFaultMix('meter-stalled=0.25, tank-empty=.5')).toEqual({
      'meter-stalled': 0.25,
      'tank-empty': 0.5,
    });
    const total = Object.values(parseFaultMix('balanced')).reduce((sum, share) => sum + share, 0);
    expect(total).toBeCloseTo(0.5);
    const demo = Object.values(parseFaultMix('demo')).reduce((sum, share) => sum + share, 0);
    expect(demo).toBeCloseTo(0.2, 1);
  });

  test.each(['', 'all', 'meter-stalled', 'meter-stalled=', 'meter-stalled=x', 'rust=0.1', 'tank-empty=1.1'])(
    'is refused as %j',
    (text) => {
      expect(() => parseFaultMix(text)).toThrow(expect.objectContaining({ code: 'faults-unreadable' }));
    },
  );

  test('is refused where it asks for more than all units', () => {
    expect(() => parseFaultMix('tank-empty=0.6,meter-stalled=0.6')).toThrow(
      expect.objectContaining({ code: 'faults-unreadable' }),
    );
  });
});
