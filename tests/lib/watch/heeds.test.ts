import fc from 'fast-check';
import { expect, it } from 'vitest';
import { Alerting } from '../../../lib/live/alerting.ts';
import { byKnown, follow } from '../../../lib/live/follow.ts';
import { newHead } from '../../../lib/live/head.ts';
import { parseFaultMix } from '../../../lib/simulation/faultMix.ts';
import { planFleet } from '../../../lib/simulation/plan.ts';
import { simulateUnit } from '../../../lib/simulation/simulate.ts';
import { inOrder, UnitHistory } from '../../../lib/unit/history.ts';
import { CLOCK_KINDS, KINDS, kindsHeeding } from '../../../lib/watch/kinds.ts';
import { rulesSchema } from '../../../lib/watch/rules.ts';
import type { Fact } from '../../../shared/facts.ts';
import { readmit } from '../../../shared/readmit.ts';
import type { Unit } from '../../../shared/registry.ts';
import { registryOf } from '../../support/fleet.ts';
import { noonsBetween } from '../../support/noonsBetween.ts';

const HOUR = 3_600_000;
const DAYS = 120;
const START = 20_500;
const rules = rulesSchema.parse({});

/** Units with every fault, and some months of what they send. */
const units = planFleet({
  units: 24,
  days: DAYS,
  start: START,
  seed: 17,
  faults: parseFaultMix('balanced'),
}).map((plan) => {
  const { record, events } = simulateUnit(plan);
  const [unit] = registryOf(record).units.values();
  if (!unit) throw new Error('the simulated unit has no record');
  return { unit, sent: events.map((event) => readmit(JSON.stringify(event), unit)) };
});

const hour = fc.integer({ min: 0, max: DAYS * 24 });
const gallons = fc.oneof(fc.constant(0), fc.integer({ min: 0, max: 1500 }));
const lb = fc.integer({ min: 0, max: 200 });
const finding = fc.constantFrom(
  'meter-stalled',
  'brine-not-drawn',
  'capacity-setting',
  'nothing-found',
  'salt',
);
const maybe = <Value>(value: fc.Arbitrary<Value>) => fc.option(value, { nil: undefined });

/** What may befall a unit beside: facts of every kind with hardly any sense in them. */
const odd = fc.oneof(
  fc.record({
    kind: fc.constant('flow-day' as const),
    hour,
    gallons,
    peakGpm: maybe(fc.double({ min: 0, max: 9, noNaN: true })),
  }),
  fc.record({
    kind: fc.constant('regeneration' as const),
    hour,
    trigger: fc.constantFrom('metered' as const, 'manual' as const, 'unknown' as const),
    durationMinutes: maybe(fc.integer({ min: 20, max: 500 })),
    saltAfterLb: maybe(lb),
    brineGallons: maybe(fc.double({ min: 0, max: 4, noNaN: true })),
    gallonsSince: maybe(gallons),
  }),
  fc.record({
    kind: fc.constant('settings' as const),
    hour,
    hardnessGpg: fc.integer({ min: 0, max: 60 }),
    capacityGrains: fc.constantFrom(0, 8_000, 16_000, 24_000, 32_000, 90_000),
    regenerationHour: fc.integer({ min: 0, max: 23 }),
    clockMinutes: maybe(fc.integer({ min: 0, max: 1439 })),
    saltDoseLb: maybe(fc.integer({ min: 1, max: 20 })),
    mode: maybe(fc.constantFrom('service' as const, 'setup' as const)),
  }),
  fc.record({ kind: fc.constant('salt-level' as const), hour, lb }),
  fc.record({ kind: fc.constant('power' as const), hour, settingsKept: fc.boolean() }),
  fc.record({
    kind: fc.constant('service-visit' as const),
    hour,
    findings: fc.array(finding, { maxLength: 2 }),
    work: fc.array(finding, { maxLength: 2 }),
    saltAddedLb: maybe(lb),
    rawHardnessGpg: maybe(fc.integer({ min: 1, max: 50 })),
  }),
  fc.record({
    kind: fc.constantFrom('away' as const, 'at-home' as const),
    hour,
    days: fc.integer({ min: -10, max: 20 }),
  }),
  fc.record({
    kind: fc.constant('question' as const),
    hour,
    step: fc.constantFrom('asked' as const, 'not-sure' as const),
  }),
  fc.record({
    kind: fc.constant('alert-act' as const),
    hour,
    act: fc.constantFrom('remove-from-service' as const, 'return-to-service' as const),
  }),
);

type Odd = typeof odd extends fc.Arbitrary<infer O> ? O : never;

function factOf(unit: Unit, odd: Odd, index: number): Fact {
  const time = unit.zone.startOf(START) + odd.hour * HOUR + index;
  const date = unit.zone.dateAt(time);
  const envelope = { id: `odd-${index}`, time, known: time, at: time };
  switch (odd.kind) {
    case 'flow-day': {
      const at = unit.zone.startOf(date + 1);
      return { ...envelope, ...odd, date, time: at, known: at + index, at };
    }
    case 'power':
      return { ...envelope, ...odd, lostAt: time - HOUR, restoredAt: time };
    case 'service-visit':
      return { ...envelope, ...odd, technician: 'tech-4' };
    case 'away':
    case 'at-home':
      return {
        ...envelope,
        kind: odd.kind,
        from: date + Math.min(0, odd.days),
        to: date + Math.max(0, odd.days),
      };
    case 'alert-act':
      return { ...envelope, kind: odd.kind, act: odd.act, by: 'desk-1' };
    default:
      return { ...envelope, ...odd };
  }
}

/** A unit with what it sent and what befell it, some of it known late. */
const story = fc
  .record({
    of: fc.constantFrom(...units),
    odds: fc.array(odd, { maxLength: 40 }),
    late: fc.array(fc.record({ nth: fc.nat(400), hours: fc.nat(200) }), { maxLength: 6 }),
  })
  .map(({ of: { unit, sent }, odds, late }) => {
    const facts = [...sent, ...odds.map((each, index) => factOf(unit, each, index))].sort(inOrder);
    for (const { nth, hours } of late) {
      const fact = facts[nth % facts.length];
      if (fact) facts[nth % facts.length] = { ...fact, known: fact.known + hours * HOUR };
    }
    return { unit, facts };
  });

it('sees the same of a unit after a fact that it does not heed as before it', () => {
  let compared = 0;
  fc.assert(
    fc.property(story, ({ unit, facts }) => {
      const history = new UnitHistory(unit, rules.fold);
      const views = (fact: Fact) => {
        const heeding = kindsHeeding(fact.kind);
        return KINDS.filter((kind) => !heeding.includes(kind)).flatMap(({ kind, look }) =>
          [true, false].map((isOpen) => {
            const finding = look(unit, history.state, rules, fact.known, isOpen);
            return finding && [kind, finding.probability, finding.severity, finding.lasts];
          }),
        );
      };
      for (const fact of facts) {
        if (fact.kind === 'alert-act') continue;
        const before = views(fact);
        history.learn(fact);
        expect(views(fact), fact.kind).toEqual(before);
        compared += before.filter(Boolean).length;
      }
    }),
    { numRuns: 40 },
  );
  expect(compared).toBeGreaterThan(1000);
});

it('raises what it would by looking at everything, after every fact and at every noon', () => {
  let alerts = 0;
  fc.assert(
    fc.property(story, ({ unit, facts }) => {
      const head = newHead(unit, rules.fold);
      const known = [...facts].sort(byKnown);
      const { ended, head: last } = follow(unit, head, known, { rules });
      expect([...ended, ...last.open]).toEqual(plainly(unit, known));
      alerts += ended.length + last.open.length;
    }),
    { numRuns: 60 },
  );
  expect(alerts).toBeGreaterThan(100);
});

/** The episodes of a unit that is looked at as a whole each time. */
function plainly(unit: Unit, facts: readonly Fact[]) {
  const history = new UnitHistory(unit, rules.fold);
  const alerting = new Alerting(unit, rules, newHead(unit, rules.fold));
  let before: number | null = null;
  let isOfUnit = false;
  for (const [index, fact] of facts.entries()) {
    if (before !== null && !alerting.outOfService) {
      for (const noon of noonsBetween(unit.zone, before, fact.known - 1))
        alerting.look(history.state, noon, CLOCK_KINDS);
    }
    before = fact.known;
    if (fact.kind === 'alert-act') {
      isOfUnit = alerting.act(fact) || isOfUnit;
    } else {
      isOfUnit = true;
      history.learn(fact);
      if (fact.kind === 'service-visit') alerting.visit(fact);
    }
    if (facts[index + 1]?.known === fact.known) continue;
    if (isOfUnit) alerting.look(history.state, fact.known, KINDS);
    isOfUnit = false;
    alerting.forget(fact.known);
  }
  return [...alerting.ended, ...alerting.open];
}
