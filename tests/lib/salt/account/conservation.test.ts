import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { groupBy } from '../../../../functions/groupBy.ts';
import { SaltAccounts } from '../../../../lib/salt/account/saltAccounts.ts';
import { SUMMED } from '../../../../lib/salt/monthAccount.ts';
import { RegionMonths } from '../../../../lib/salt/regionMonths.ts';
import type { UnitMonth } from '../../../../lib/salt/unitMonths.ts';
import { rulesSchema } from '../../../../lib/watch/rules.ts';
import { knownOf, monthsOf } from '../../../support/accountsOf.ts';
import { flowDay, story, type Wire, zoneOf } from '../../../support/events.ts';
import { registryOf, unitRecord } from '../../../support/fleet.ts';
import { type PlainUnit, plainAccounts, plainDays } from './plainAccounts.ts';

const DAY = 86_400_000;
const REGIONS = ['alder-county', 'birch-county', 'cedar-county'] as const;
const region = fc.constantFrom(...REGIONS);

/** Moves by the day of the story after which they happened. */
const moves = fc
  .array(fc.record({ region, day: fc.integer({ min: -10, max: 60 }) }), { maxLength: 3 })
  .map((each) => [...new Map(each.map((move) => [move.day, move])).values()].sort((a, b) => a.day - b.day));

const unit = fc.record({ story, region, moves });
const fleet = fc
  .record({
    units: fc.array(unit, { minLength: 1, maxLength: 3 }),
    /** Which lines come again, and which of these say something else the second time. */
    again: fc.array(fc.record({ line: fc.nat(1_000), differs: fc.boolean() }), { maxLength: 12 }),
    daysAfter: fc.oneof(fc.constant(0), fc.integer({ min: 1, max: 90 }), fc.constant(400)),
  })
  .map(({ units, again, daysAfter }) => {
    const plain: PlainUnit[] = [];
    const lines: string[] = [];
    units.forEach(({ story: { timeZone, events }, region: here, moves: moved }, index) => {
      const unitId = `u-${index}`;
      const first = firstDate(events);
      const formerRegions = moved.map((move) => ({
        region: move.region,
        until: new Date((first + move.day) * DAY).toISOString().slice(0, 10),
      }));
      plain.push({ unitId, timeZone, region: here, formerRegions });
      const source = `/companies/fenwick-water/units/${unitId}`;
      lines.push(...tidied(events).map((event) => JSON.stringify({ ...event, source })));
    });
    const copies =
      lines.length === 0
        ? []
        : again.map(({ line, differs }) => copyOf(lines[line % lines.length] ?? '', differs));
    const last = Math.max(0, ...lines.map((line) => Date.parse(JSON.parse(line).recordedtime)));
    return { units: plain, lines: [...lines, ...copies], until: last + daysAfter * DAY };
  });

function firstDate(events: readonly Wire[]): number {
  return Math.floor(Math.min(Date.UTC(2027, 0), ...events.map(({ time }) => Date.parse(time))) / DAY);
}

/**
 * A story whose salt can be told without the fold: no sensor sticks, since neighbouring readings differ, and brine is
 * drawn or not.
 */
function tidied(events: readonly Wire[]): Wire[] {
  let readings = 0;
  const reading = (quantity: { value: number }) => ({
    ...quantity,
    value: 3 * Math.floor(quantity.value / 3) + (readings++ % 3),
  });
  return events.map((event) => {
    const data: Record<string, unknown> = { ...event.data };
    for (const name of ['mass', 'saltBefore', 'saltAfter'])
      if (data[name]) data[name] = reading(data[name] as { value: number });
    const brine = data.brineDrawn as { value: number } | undefined;
    if (brine?.value === 1) data.brineDrawn = { ...brine, value: 0 };
    return { ...event, data };
  });
}

/** The same event, received a month later; or another under its id, which is set aside. */
function copyOf(line: string, differs: boolean): string {
  const event = JSON.parse(line);
  const recordedtime = new Date(Date.parse(event.recordedtime) + 30 * DAY).toISOString();
  const time = differs ? new Date(Date.parse(event.time) + 60_000).toISOString() : event.time;
  return JSON.stringify({ ...event, time, recordedtime });
}

function registryFor(units: readonly PlainUnit[], withMoves = true) {
  return registryOf(
    ...units.map(({ unitId, timeZone, region: here, formerRegions }) =>
      unitRecord({ unitId, siteId: unitId, timeZone, region: here, ...(withMoves && { formerRegions }) }),
    ),
  );
}

function byRegionMonth(months: readonly UnitMonth[]): Map<string, UnitMonth[]> {
  return groupBy(months, (each) => `${each.region} ${each.month}`);
}

const sum = <T>(items: readonly T[], of: (item: T) => number) =>
  items.reduce((all, item) => all + of(item), 0);
const wastedLb = ({ wasted }: Pick<UnitMonth, 'wasted'>) => sum(Object.values(wasted), (lb) => lb);

describe('the accounts of any fleet', () => {
  it('are the sums of its units, and those what its lines say by a plain reckoning', () => {
    fc.assert(
      fc.property(fleet, ({ units, lines, until }) => {
        const known = knownOf(lines, registryFor(units), until);
        const months = byRegionMonth(monthsOf(known, until));
        const plain = plainAccounts(units, lines, until);
        expect([...months.keys()].sort()).toEqual([...plain.keys()].sort());
        for (const [key, each] of months) {
          const want = plain.get(key);
          expect(
            sum(each, (month) => month.daysCounted),
            key,
          ).toBe(want?.daysCounted);
          expect(
            sum(each, (month) => month.daysExpected),
            key,
          ).toBe(want?.daysExpected);
          expect(sum(each, (month) => month.regenerations)).toBe(want?.regenerations);
          for (const name of [
            'treatedGallons',
            'measuredSaltLb',
            'inferredSaltLb',
            'deliveredSaltLb',
            'regenerationGallons',
          ] as const)
            expect(
              sum(each, (month) => month[name]),
              name,
            ).toBeCloseTo(want?.[name] ?? Number.NaN, 6);
          expect(
            sum(each, (month) => month.inferredRegenerationGallons - 80 * month.regenerationsImputed),
          ).toBeCloseTo(want?.inferredRegenerationGallons ?? Number.NaN, 6);
        }

        const accounts = new SaltAccounts(until, rulesSchema.parse({}).salt);
        for (const each of known) accounts.add(each);
        const told = new Map(accounts.accounts().map((each) => [`${each.region} ${each.month}`, each]));
        expect([...told.keys()].sort()).toEqual([...plain.keys()].sort());
        for (const [key, account] of told) {
          const want = plain.get(key);
          expect(account).toMatchObject({
            units: want?.units,
            unitsReporting: want?.unitsReporting,
            daysCounted: want?.daysCounted,
            daysExpected: want?.daysExpected,
            regenerations: want?.regenerations,
          });
          expect(account.treatedGallons).toBeCloseTo(want?.treatedGallons ?? Number.NaN, 6);
          expect(account.measuredSaltLb).toBeCloseTo(want?.measuredSaltLb ?? Number.NaN, 6);
          expect(account.inferredSaltLb).toBeCloseTo(
            account.drawnShare.value * (want?.inferredSaltLb ?? Number.NaN),
            6,
          );
        }

        const regions = new RegionMonths(until);
        for (const each of known) regions.add(each.unit, each.months, each.firstDate);
        for (const row of regions.rows()) {
          const want = plain.get(`${row.region} ${row.month}`);
          expect(row.unit_days).toBe(want?.daysCounted ?? 0);
          expect(row.regenerations).toBe(want?.regenerations ?? 0);
          expect(row.units_reporting).toBe(want?.unitsReporting ?? 0);
          expect(row.water_treated_gal).toBeCloseTo(want?.treatedGallons ?? 0, 6);
          expect(row.salt_used_lb).toBeCloseTo((want?.measuredSaltLb ?? 0) + (want?.inferredSaltLb ?? 0), 6);
        }
      }),
      { numRuns: 30 },
    );
  });

  it('have every day that is owed once: counted, estimated, or still missing after a year of silence', () => {
    fc.assert(
      fc.property(fleet, ({ units, lines, until }) => {
        for (const each of knownOf(lines, registryFor(units), until)) {
          const months = monthsOf([each], until);
          const days = plainDays(units, lines, until).get(each.unit.unitId);
          const imputed = sum(months, (month) => month.daysImputed);
          const missing = sum(months, (month) => month.daysExpected - month.daysCounted - month.daysImputed);
          expect(missing).toBe(days ? Math.max(0, days.silent - 365) : 0);
          if (days) expect(days.counted + imputed + missing).toBe(days.owed);
          for (const month of months) {
            expect(month.daysCounted + month.daysImputed).toBeLessThanOrEqual(month.daysExpected);
            // What came through soft and what came through hard is all the water.
            expect(month.grainsRemoved / 20 + month.hardGallons).toBeCloseTo(month.treatedGallons, 3);
            for (const lb of Object.values(month.wasted)) expect(lb).toBeGreaterThanOrEqual(0);
            expect(wastedLb(month)).toBeLessThanOrEqual(month.measuredDoseLb + month.inferredSaltLb + 1e-9);
          }
        }
      }),
      { numRuns: 30 },
    );
  });

  it('lose nothing and count nothing twice where units move', () => {
    fc.assert(
      fc.property(fleet, ({ units, lines, until }) => {
        const moved = knownOf(lines, registryFor(units), until);
        const still = knownOf(lines, registryFor(units, false), until);
        moved.forEach((each, index) => {
          const other = still[index];
          if (!other) throw new Error('a unit is missing');
          const here = groupBy(monthsOf([each], until), ({ month }) => month);
          const there = groupBy(monthsOf([other], until), ({ month }) => month);
          expect([...here.keys()]).toEqual([...there.keys()]);
          for (const [month, parts] of here) {
            const [whole] = there.get(month) ?? [];
            if (!whole) throw new Error(`${month} is missing`);
            for (const name of SUMMED)
              expect(
                sum(parts, (part) => part[name]),
                name,
              ).toBeCloseTo(whole[name], 4);
            expect(sum(parts, wastedLb)).toBeCloseTo(wastedLb(whole), 6);
            expect(sum(parts, ({ daysExpected }) => daysExpected)).toBe(whole.daysExpected);
          }
        });
      }),
      { numRuns: 25 },
    );
  });

  it('do not hang on the order of the lines, nor on how often one comes', () => {
    fc.assert(
      fc.property(fleet, fc.infiniteStream(fc.nat(1e6)), ({ units, lines, until }, keys) => {
        const shuffled = [...lines, ...lines.filter(() => (keys.next().value ?? 0) % 3 === 0)]
          .map((line) => ({ line, key: keys.next().value ?? 0 }))
          .sort((a, b) => a.key - b.key)
          .map(({ line }) => line);
        const registry = registryFor(units);
        expect(monthsOf(knownOf(shuffled, registry, until), until)).toEqual(
          monthsOf(knownOf(lines, registry, until), until),
        );
      }),
      { numRuns: 15 },
    );
  });
});

describe('an odd date', () => {
  const zone = zoneOf('America/New_York');
  const registry = registryOf(unitRecord());
  const first = Date.parse('2026-03-01T00:00:00Z') / DAY;
  const days = Array.from({ length: 40 }, (_, day) => flowDay(zone, first + day, 100));
  const until = zone.startOf(first + 40) + 3_600_000;

  it('of the year 1 is one day of that year, and no century of silence', () => {
    const recordedtime = '2026-03-02T12:00:00Z';
    const odd = { ...flowDay(zone, Date.parse('0001-03-05T00:00:00Z') / DAY, 77), recordedtime };
    const known = knownOf(
      [odd, ...days].map((each) => JSON.stringify(each)),
      registry,
      until,
    );
    const months = monthsOf(known, until);
    expect(months[0]).toMatchObject({ month: '0001-03', daysCounted: 1, treatedGallons: 77 });
    expect(months[0]?.until).toBe((months[0]?.from ?? 0) + 31);
    expect(new Set(months.map(({ month }) => month)).size).toBe(months.length);
    expect(months.filter(({ month }) => month >= '2026-03').map(({ daysCounted }) => daysCounted)).toEqual([
      31, 9,
    ]);
    expect(months.length).toBeLessThan(30);
  });
});
