import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { alertSchema } from '../../../shared/alertSchema.ts';
import { forecastSchema } from '../../../shared/forecasts.ts';
import { story, type Wire } from '../../support/events.ts';
import { registryOf, unitRecord } from '../../support/fleet.ts';
import { replayLines } from '../../support/replayLines.ts';

/** What a line may suffer on its way. */
const mishap = fc.record({
  copies: fc.integer({ min: 1, max: 3 }),
  reordered: fc.boolean(),
  /** A copy may be received again, later. */
  again: fc.integer({ min: 0, max: 90_000_000 }),
  conflict: fc.option(fc.integer({ min: 0, max: 400 }), { freq: 6 }),
  noise: fc.constantFrom(
    '',
    '',
    '',
    '{"specversion":',
    '[]',
    '\u0000\u0001',
    '{"specversion":"1.0","id":"x"}',
  ),
});

function linesOf(
  event: Wire,
  { copies, reordered, again, conflict, noise }: typeof mishap extends fc.Arbitrary<infer M> ? M : never,
) {
  const lines = Array.from({ length: copies }, (_, copy) => {
    const recordedtime = new Date(Date.parse(event.recordedtime ?? event.time) + copy * again).toISOString();
    const received = { ...event, recordedtime };
    return JSON.stringify(reordered ? Object.fromEntries(Object.entries(received).reverse()) : received);
  });
  if (conflict !== null) {
    const data = {
      ...event.data,
      volume: { value: conflict, unit: 'L' },
      mass: { value: conflict, unit: 'kg' },
    };
    lines.push(JSON.stringify({ ...event, data }));
  }
  return noise === '' ? lines : [...lines, noise];
}

describe('the replay of a unit', () => {
  it('gives the same states, episodes, forecasts and accounts for any order and duplication of its lines', () => {
    fc.assert(
      fc.property(
        story,
        fc.infiniteStream(mishap),
        fc.infiniteStream(fc.nat(1e6)),
        ({ timeZone, events }, mishaps, keys) => {
          fc.pre(events.length > 0);
          const registry = registryOf(unitRecord({ timeZone }));
          const lines = events.flatMap((event) => linesOf(event, mishaps.next().value));
          const shuffled = lines
            .map((line) => ({ line, key: keys.next().value }))
            .sort((a, b) => a.key - b.key)
            .map(({ line }) => line);
          const inOrder = replayLines(lines, registry);
          const outOfOrder = replayLines(shuffled, registry);
          const sorted = <Item>(items: Item[]) => items.map((item) => JSON.stringify(item)).sort();
          expect(sorted(outOfOrder.rejected)).toEqual(sorted(inOrder.rejected));
          expect({ ...outOfOrder, rejected: [] }).toEqual({ ...inOrder, rejected: [] });
          expect(inOrder.accepted + inOrder.duplicates + inOrder.rejected.length).toBe(lines.length);
          for (const alert of inOrder.alerts) alertSchema.parse(alert);
          for (const forecast of inOrder.forecasts) forecastSchema.parse(forecast);
        },
      ),
      { numRuns: 200 },
    );
  });

  it('counts water and regenerations of a region as the standing facts do', () => {
    fc.assert(
      fc.property(story, ({ timeZone, events }) => {
        const standing = new Map<unknown, Wire>();
        for (const event of events.filter(({ type }) => type === 'brinebell.flow-day.v1')) {
          const other = standing.get(event.data.date);
          const later =
            !other || event.time > other.time || (event.time === other.time && event.id > other.id);
          if (later) standing.set(event.data.date, event);
        }
        fc.pre(standing.size > 0);
        const { salt, forecasts } = replayLines(
          events.map((event) => JSON.stringify(event)),
          registryOf(unitRecord({ timeZone })),
        );
        const sum = (pick: (row: (typeof salt)[number]) => number) =>
          salt.reduce((total, row) => total + pick(row), 0);
        const perGallon = { '[gal_us]': 1, L: 3.785411784, m3: 0.003785411784 };
        const gallons = [...standing.values()].map(({ data }) => {
          const { value, unit } = data.volume as { value: number; unit: keyof typeof perGallon };
          return value / perGallon[unit];
        });
        expect(sum((row) => row.water_treated_gal)).toBeCloseTo(
          gallons.reduce((total, each) => total + each, 0),
          6,
        );
        expect(sum((row) => row.unit_days)).toBe(standing.size);
        expect(sum((row) => row.regenerations)).toBe(
          events.filter(({ type }) => type === 'brinebell.regeneration.v1').length,
        );
        expect(forecasts.length).toBe(standing.size);
      }),
      { numRuns: 100 },
    );
  });
});
