import fc from 'fast-check';
import type { Fact } from '../../shared/facts.ts';

/** What every accepted event carries, all at one instant. */
export function accepted(id: string) {
  return { id, time: 0, known: 0, at: 0 };
}

const number = fc.oneof(fc.double({ noNaN: true }), fc.constantFrom(0, -0, 1, 250.25));
const text = fc.string({
  unit: fc.oneof(fc.constantFrom('a', 'é', 'ÿ', '☃', '😀', '\uD800', '\0'), fc.string()),
});
const some = <Value>(value: fc.Arbitrary<Value>) => fc.option(value, { nil: undefined });
const optional = some(number);

/** A fact of a kind with the members that `toFact` gives it, in their order. */
function of<const Kind extends Fact['kind'], Rest>(
  kind: Kind,
  rest: { [Key in keyof Rest]: fc.Arbitrary<Rest[Key]> },
) {
  return fc
    .record({ id: text, time: number, known: number, at: number })
    .chain((envelope) => fc.record(rest).map((members) => ({ kind, ...envelope, ...members })));
}

/** Facts of every kind. */
export const facts: fc.Arbitrary<Fact> = fc.oneof(
  of('flow-day', {
    date: number,
    gallons: number,
    peakGpm: optional,
    flowHours: optional,
    longestFlowMinutes: optional,
    registerGallons: optional,
  }),
  of('regeneration', {
    trigger: fc.constantFrom('metered', 'manual', 'override', 'unknown'),
    durationMinutes: optional,
    saltBeforeLb: optional,
    saltAfterLb: optional,
    brineGallons: optional,
    waterGallons: optional,
    gallonsSince: optional,
  }),
  of('settings', {
    hardnessGpg: number,
    capacityGrains: number,
    regenerationHour: number,
    clockMinutes: optional,
    saltDoseLb: optional,
    mode: some(fc.constantFrom('service', 'setup')),
  }),
  of('salt-level', { lb: number }),
  of('power', { lostAt: number, restoredAt: number, settingsKept: fc.boolean() }),
  of('service-visit', {
    technician: text,
    findings: fc.array(text),
    work: fc.array(text),
    parts: some(fc.array(text)),
    saltAddedLb: optional,
    rawHardnessGpg: optional,
    coldHardnessGpg: optional,
    hotHardnessGpg: optional,
    notes: some(text),
  }),
  of('away', { from: number, to: number }),
  of('at-home', { from: number, to: number }),
  of('alert-act', {
    act: fc.constantFrom(
      'acknowledge',
      'unacknowledge',
      'shelve',
      'unshelve',
      'remove-from-service',
      'return-to-service',
    ),
    by: text,
    alertId: some(text),
    until: optional,
  }),
  of('question', { step: fc.constantFrom('asked', 'not-sure') }),
);
