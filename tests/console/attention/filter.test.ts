import fc from 'fast-check';
import { expect, test } from 'vitest';
import { type Filter, filterOf, matching } from '../../../console/attention/filter.ts';
import { type Row, withFirstPage } from '../../../console/attention/rows.ts';
import { SEVERITIES } from '../../../shared/alerts.ts';

const KINDS = ['no-flow', 'salt-low', 'overrun'] as const;
const REGIONS = ['alder-county', 'high-basin'];
const WORDS = ['birch', 'lane', 'מים', 'stalled'];

const act = fc.option(fc.constant({ by: 'Dana', at: '2026-03-01T08:00:00Z', until: '2026-04-01T08:00:00Z' }));
const rows: fc.Arbitrary<Row[]> = fc
  .uniqueArray(
    fc.record({
      unitId: fc.integer({ min: 0, max: 60 }).map((n) => `unit-${n}`),
      kind: fc.constantFrom(...KINDS),
      region: fc.constantFrom(...REGIONS),
      severity: fc.constantFrom(...SEVERITIES),
      acknowledged: act,
      shelved: act,
      weight: fc.double({ min: 0, max: 1, noNaN: true }),
      text: fc.array(fc.constantFrom(...WORDS)).map((words) => words.join(' ')),
    }),
    { selector: ({ unitId }) => unitId },
  )
  .map((some) => some.map((row) => ({ ...REST, ...row })).sort((a, b) => b.weight - a.weight));

const REST: Row = {
  unitId: '',
  siteId: 's',
  siteName: null,
  region: 'alder-county',
  timeZone: 'UTC',
  alertId: 'a',
  kind: 'no-flow',
  cause: null,
  severity: 'soon',
  since: '2026-03-01T08:00:00Z',
  sentence: '',
  probability: 0.5,
  state: 'unacknowledged',
  acknowledged: null,
  shelved: null,
  otherAlerts: 0,
  hardDaysSoFar: 0,
  hardDaysExpected: 0,
  saltRunsOut: null,
  nextRegeneration: null,
  lastReported: null,
  weight: 0,
  text: '',
};

const filter = fc.record(
  {
    search: fc.array(fc.constantFrom(...WORDS), { minLength: 1 }).map((words) => words.join('  ')),
    region: fc.constantFrom(...REGIONS),
    kind: fc.constantFrom(...KINDS),
    severity: fc.constantFrom(...SEVERITIES),
    handling: fc.constantFrom('handled' as const, 'not-handled' as const),
  },
  { requiredKeys: [] },
);

test('a row is shown if and only if each part of the filter alone shows it, and the order stays', () => {
  fc.assert(
    fc.property(rows, filter, fc.array(fc.integer({ max: 60 })), (all, wanted, visits) => {
      const planned = new Map(visits.map((n) => [`unit-${n}`, true]));
      const parts = Object.entries(wanted).map(([name, value]) => filterOf({ [name]: value }));
      const byParts = all.filter((row) => parts.every((part) => matching([row], part, planned).length === 1));
      expect(matching(all, wanted, planned)).toEqual(byParts);
    }),
  );
});

test('handled and not handled are all rows, none twice', () => {
  fc.assert(
    fc.property(rows, (all) => {
      const [handled, open] = (['handled', 'not-handled'] as const).map((handling) =>
        matching(all, { handling }, new Map()),
      );
      expect(new Set([...(handled ?? []), ...(open ?? [])])).toEqual(new Set(all));
      expect((handled ?? []).length + (open ?? []).length).toBe(all.length);
    }),
  );
});

test('a filter survives the address, and what is none does not come out of one', () => {
  fc.assert(
    fc.property(filter, (wanted: Filter) => {
      expect(filterOf({ ...wanted })).toEqual(wanted);
    }),
  );
  fc.assert(
    fc.property(fc.dictionary(fc.constantFrom('kind', 'severity', 'handling'), fc.anything()), (given) => {
      for (const [name, value] of Object.entries(filterOf(given))) expect(value).toBe(given[name]);
      expect(filterOf({ kind: 'toString', severity: '__proto__' })).toEqual({});
    }),
  );
});

test('a fresh first page: no unit twice, the worst first, and what is further down stays', () => {
  fc.assert(
    fc.property(rows, rows, fc.nat(40), (known, read, size) => {
      const fresh = read.slice(0, size);
      const merged = withFirstPage(known, fresh);
      expect(new Set(merged.map(({ unitId }) => unitId)).size).toBe(merged.length);
      expect(merged.slice(0, fresh.length)).toEqual(fresh);
      for (const [i, row] of merged.entries())
        expect(row.weight).toBeLessThanOrEqual(merged[i - 1]?.weight ?? 1);
    }),
  );
});
