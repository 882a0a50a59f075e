import { parse } from 'csv-parse/sync';
import { beforeAll, describe, expect, it } from 'vitest';
import * as z from 'zod';
import { deliveriesView } from '../../../functions/api/deliveriesView.ts';
import { formatLocalDate } from '../../../shared/time/localDate.ts';
import { wire, zoneOf } from '../../support/events.ts';
import { unitRecord } from '../../support/fleet.ts';
import { FIRST_DATE, linesOf, play } from '../../support/household.ts';
import { keyOf, live, NOW, service } from './service.ts';

const COMPANY = 'fenwick-water';
const HOUR = 3_600_000;
const zone = zoneOf('America/New_York');
const TODAY = zone.dateAt(NOW);
const DAYS = TODAY - FIRST_DATE;

/** Of four houses one runs out soon, one later, one has no sensor, and one stands in Phoenix, where the day begins later. */
const tank = { saltTank: { value: 200, unit: '[lb_av]' } };
const records = [
  unitRecord({
    ...tank,
    round: 'mill-road',
    site: { name: '=4 Mill Road', address: '4 Mill Road, "Old" Town' },
  }),
  unitRecord({ ...tank, unitId: 'u-18', siteId: 'site-18', round: 'old-town' }),
  unitRecord({ ...tank, unitId: 'u-19', siteId: 'site-19', round: 'mill-road', senses: [] }),
  unitRecord({ unitId: 'u-20', siteId: 'site-20', region: 'high-basin', timeZone: 'America/Phoenix' }),
];

function linesOfUnit(unitId: string, startLb: number | undefined): string[] {
  const events = play({ days: DAYS, gallons: () => 160 });
  const levels = startLb === undefined ? [] : Array.from({ length: DAYS }, (_, day) => levelOn(day, startLb));
  return linesOf([...events, ...levels]).map((line) => line.replace('units/u-17', `units/${unitId}`));
}

function levelOn(day: number, startLb: number) {
  const morning = zone.startOf(FIRST_DATE + day) + 6 * HOUR;
  const value = startLb - 6 * Math.floor(day / 6) + ((day * 7) % 3) - 1;
  return wire('salt-level', `level-${day}`, morning, { mass: { value, unit: '[lb_av]' } }, morning + 60_000);
}

async function fleet() {
  const made = service();
  const key = await keyOf(made, COMPANY);
  const lines = [...linesOfUnit('u-17', 98), ...linesOfUnit('u-18', 112), ...linesOfUnit('u-19', undefined)];
  await live(made.store, records, lines);
  const visit = { technician: 'tech-4', reason: 'Bring salt', by: 'desk', at: NOW };
  const on = (days: number) => ({ ...visit, visitId: `visit-${days}`, date: formatLocalDate(TODAY + days) });
  const ref = { companyId: COMPANY, unitId: 'u-17' };
  for (const days of [3, 40]) await made.store.putVisit(ref, on(days));
  const get = async (query: string) =>
    deliveriesView.parse(await (await made.ask('GET', `/v1/deliveries${query}`, { key })).json());
  const csv = async (query: string) => made.ask('GET', `/v1/deliveries.csv${query}`, { key });
  return { ...made, key, get, csv };
}

let made: Awaited<ReturnType<typeof fleet>>;
beforeAll(async () => {
  made = await fleet();
});

describe('deliveries', () => {
  it('name the units by their day, with where they are and who goes there in these weeks already', async () => {
    const { dated, byRate, others, units, weeks, regions } = await made.get('');
    expect(units).toBe(4);
    expect(dated.map(({ unitId, round }) => [unitId, round])).toEqual([
      ['u-17', 'mill-road'],
      ['u-18', 'old-town'],
    ]);
    const [first] = dated;
    expect(first).toMatchObject({ siteName: '=4 Mill Road', levelBy: 'sensor', bags: 4 });
    expect(first?.visits.map(({ visitId }) => visitId)).toEqual(['visit-3']);
    expect(first?.lastReported).toBe(formatLocalDate(TODAY - 1));
    expect(byRate.map(({ unitId, why }) => [unitId, why])).toEqual([['u-19', 'no-sensor']]);
    expect(others['nothing-reported']).toBe(1);
    // At noon in London it is the same day in New York and in Phoenix.
    expect(weeks[1]).toEqual({ week: 1, from: formatLocalDate(TODAY), to: formatLocalDate(TODAY + 6) });
    expect(regions).toEqual([
      { region: 'alder-county', rounds: ['mill-road', 'old-town'] },
      { region: 'high-basin', rounds: [null] },
    ]);
  });

  it('are those of a region or of a round, the weeks staying the same', async () => {
    const all = await made.get('');
    const road = await made.get('?round=mill-road');
    expect(road.dated).toEqual(all.dated.filter(({ round }) => round === 'mill-road'));
    expect(road.rounds).toEqual(all.rounds.filter(({ round }) => round === 'mill-road'));
    expect([road.units, road.byRate.length]).toEqual([2, 1]);
    expect(road.weeks).toEqual(all.weeks);
    expect(road.regions).toEqual(all.regions);
    expect((await made.get('?round=')).units).toBe(1);
    expect((await made.get('?region=high-basin')).units).toBe(1);
    expect((await made.get('?region=alder-county&round=')).units).toBe(0);
    expect((await made.get('?region=nowhere')).total.every(({ bags }) => bags === 0)).toBe(true);
    expect((await made.ask('GET', '/v1/deliveries?region=a%20b', { key: made.key })).status).toBe(400);
  });

  it('are a table as well, of the same units, that no spreadsheet works out', async () => {
    const answer = await made.csv('?region=alder-county');
    expect(answer.headers.get('content-type')).toBe('text/csv; charset=utf-8; header=present');
    const text = await answer.text();
    expect(text.endsWith('\r\n')).toBe(true);
    const rows = z.array(z.record(z.string(), z.string())).parse(parse(text, { columns: true }));
    const { dated, bagLb } = await made.get('?region=alder-county');
    expect(rows.map(({ unit_id }) => unit_id)).toEqual(['u-17', 'u-18', 'u-19']);
    const [first] = dated;
    expect(rows[0]).toMatchObject({
      ...{ week: String(first?.week), deliver_by: first?.by, runs_out_p10: first?.runsOut.p10 },
      ...{ bags: String(first?.bags), salt_lb: String((first?.bags ?? 0) * bagLb), level_known_by: 'sensor' },
      ...{ site_name: "'=4 Mill Road", site_address: '4 Mill Road, "Old" Town', is_empty: 'false' },
      visit_planned_on: formatLocalDate(TODAY + 3),
    });
    expect(rows[2]).toMatchObject({ week: '', deliver_by: '', bags: '', level_known_by: 'no-sensor' });
    expect(Number(rows[2]?.uses_lb_per_week)).toBeGreaterThan(5);
    for (const row of rows) {
      expect(Number(row.bag_lb)).toBe(bagLb);
      const lb = Number(row.uses_bags_per_week) * bagLb;
      expect(Math.abs(lb - Number(row.uses_lb_per_week))).toBeLessThanOrEqual(0.005 * bagLb + 0.05);
    }
  });

  it('leave out a unit that is out of service, until it is back', async () => {
    const { store, get } = await fleet();
    const ref = { companyId: COMPANY, unitId: 'u-17' };
    const { stored, version } = await store.unit(ref, { fresh: true });
    if (!stored) throw new Error('no head');
    const outOfService = { by: 'desk', at: NOW - HOUR, until: NOW + HOUR };
    await store.putHead(ref, version, { ...stored, head: { ...stored.head, outOfService } });
    const { dated, others } = await get('');
    expect(dated.map(({ unitId }) => unitId)).toEqual(['u-18']);
    expect(others['out-of-service']).toBe(1);
  });
});
