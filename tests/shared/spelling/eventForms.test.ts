import fc from 'fast-check';
import { expect, it, test } from 'vitest';
import * as z from 'zod';
import { dataSchemas, envelopeSchema, isWireEvent } from '../../../shared/events.ts';
import { isOfForm } from '../../../shared/spelling/eventForms.ts';
import { wire } from '../../support/events.ts';
import { formOf } from './formOf.ts';

type Schema = Parameters<typeof formOf>[0];

/** Their schemas say more than a form can: lists, and two days in their order. */
const WITHOUT_FORM = ['brinebell.service-visit.v1', 'brinebell.away.v1', 'brinebell.at-home.v1'];

function formsOf(schemas: Readonly<Record<string, Schema>>) {
  return Object.fromEntries(
    Object.entries(schemas).flatMap(([name, schema]) => {
      const form = formOf(schema);
      return form ? [[name, form] as const] : [];
    }),
  );
}

test('the forms that are worked out beforehand are those of the schemas; `npx vitest run tests/shared/spelling/eventForms.test.ts --update` writes them anew', async () => {
  const { type: _, data: __, ...envelope } = envelopeSchema().shape;
  const forms = { envelope: formsOf(envelope), data: formsOf(dataSchemas) };
  expect(Object.keys(forms.envelope)).toEqual(Object.keys(envelope));
  expect(Object.keys(dataSchemas).filter((type) => !(type in forms.data))).toEqual(WITHOUT_FORM);
  const written = `${JSON.stringify(forms, null, 2)}\n`;
  await expect(written).toMatchFileSnapshot('../../../shared/spelling/eventForms.json');
});

const NOW = Date.UTC(2026, 2, 20, 12);
const INSTANT = '2026-03-20T11:00:00-05:00';
const gallons = { value: 12.5, unit: '[gal_us]' };
const lb = { value: 0, unit: '[lb_av]' };
const gpg = { value: 20, unit: '[gr]/[gal_us]' };

/** With all that they may have, so that each member is spoilt in its turn. */
const EVENTS = [
  wire(
    ...(['flow-day', 'e-1', NOW] as const),
    {
      date: '2026-03-19',
      volume: gallons,
      peakFlow: { value: 3, unit: 'L/min' },
      flowHours: 25,
      longestFlowMinutes: 1500,
      register: gallons,
    },
    NOW,
  ),
  wire('regeneration', 'e-2', NOW, {
    trigger: 'metered',
    durationMinutes: 88.5,
    saltBefore: lb,
    saltAfter: { value: -0.5, unit: 'kg' },
    brineDrawn: gallons,
    water: gallons,
    volumeSince: gallons,
  }),
  wire('settings', 'e-3', NOW, {
    hardness: gpg,
    capacity: { value: 20_000, unit: '[gr]' },
    regenerationHour: 2,
    clock: '23:59',
    saltDose: lb,
    mode: 'setup',
  }),
  wire('salt-level', 'e-4', NOW, { mass: lb }),
  wire('power', 'e-5', NOW, { lostAt: INSTANT, restoredAt: INSTANT, settingsKept: false }),
  wire('alert-act', 'e-6', NOW, { act: 'shelve', by: 'desk', alertId: 'no-flow-1', until: INSTANT }),
  wire('question', 'e-7', NOW, { step: 'asked' }),
  wire('away', 'e-8', NOW, { from: '2026-03-01', to: '2026-03-08' }),
  wire('service-visit', 'e-9', NOW, { technician: 't-1', findings: [], work: [] }),
];

/** Values at the edges of what is allowed, and far from them; the same text may be right in one place and wrong in another. */
const value = fc.oneof(
  fc.constantFrom<unknown>(...['1.0', 'e-1', '', ' ', 'x'.repeat(64), 'x'.repeat(65), '🧂'.repeat(64)]),
  fc.constantFrom<unknown>(...[INSTANT, '2026-03-20T11:00:00', '2026-02-29', '2024-02-29', '9:00', '09:00']),
  fc.constantFrom<unknown>(...['kg', '[lb_av]', 'L', 'metered', 'brinebell.question.v1', 'toString']),
  fc.constantFrom<unknown>(...['/companies/a/units/b', '/companies/a/units/', '/companies/a/units/b/']),
  fc.constantFrom<unknown>(...[null, true, [], {}, [gallons], { length: 3 }, gallons, lb, gpg]),
  fc.constantFrom<unknown>(...[0, -0, -1, 2, 2.5, 25, 26, 1500, 1500.1, 1e300, 1.1e300, -1e300, 2 ** 53]),
  fc.double({ noNaN: true, noDefaultInfinity: true }),
  fc.jsonValue({ maxDepth: 1 }),
);

/** A value with one of its members, at some depth, put in, left out or given another value. */
function spoilt(from: unknown, at: readonly number[], what: unknown): unknown {
  const [step, ...rest] = at;
  if (step === undefined || typeof from !== 'object' || from === null) return what;
  const members = new Map<string, unknown>(Object.entries(from));
  const names = [...members.keys(), 'other'];
  const name = names[step % names.length] ?? '';
  members.set(name, rest.length > 0 ? spoilt(members.get(name), rest, what) : what);
  return Object.fromEntries(members);
}

it('an event fits its form if, and only if, it fits its schema', () => {
  const path = fc.array(fc.nat(30), { minLength: 1, maxLength: 4 });
  const changes = fc.array(fc.tuple(path, fc.option(value, { nil: undefined })), { maxLength: 2 });
  const seen = { fits: 0, refused: 0, without: 0 };
  fc.assert(
    fc.property(fc.constantFrom(...EVENTS), changes, (event, each) => {
      const text = JSON.stringify(each.reduce<unknown>((from, [at, what]) => spoilt(from, at, what), event));
      const next: unknown = JSON.parse(text);
      const type = typeof next === 'object' && next !== null && 'type' in next ? next.type : undefined;
      const without = WITHOUT_FORM.some((name) => name === type);
      expect(isOfForm(next), text).toBe(!without && isWireEvent(next));
      seen[without ? 'without' : isOfForm(next) ? 'fits' : 'refused'] += 1;
    }),
    { numRuns: 20_000 },
  );
  expect(Math.min(...Object.values(seen)), JSON.stringify(seen)).toBeGreaterThan(1_000);
});

it('a schema that says more than a form can has none', () => {
  const more: Schema[] = [
    z.number().multipleOf(5),
    z.number().gt(0),
    z.string().min(1).regex(/a/),
    z.string().trim(),
    z.array(z.string()),
    z.object({ a: z.number() }).refine(() => true),
    z.object({ a: z.number().refine(() => true) }),
    z.literal([1, 'a']),
    z.number().default(0),
  ];
  expect(more.map(formOf)).toEqual(more.map(() => undefined));
});
