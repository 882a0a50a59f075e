import { expect, it } from 'vitest';
import { whatIfSchema } from '../../../functions/api/whatIfView.ts';
import type { Store } from '../../../lib/store/store.ts';
import { zoneOf } from '../../support/events.ts';
import { unitRecord } from '../../support/fleet.ts';
import { FIRST_DATE, linesOf, play } from '../../support/household.ts';
import { memoryStore } from '../../support/memoryStore.ts';
import { keyOf, live, NOW, service } from './service.ts';

const COMPANY = 'fenwick-water';
const TODAY = zoneOf('America/New_York').dateAt(NOW);

/** Two units that are answered for, the second with a dose that gives more than is programmed, and one that was never heard of. */
const records = [
  unitRecord(),
  unitRecord({ unitId: 'u-18', region: 'high-basin', saltDose: { value: 12, unit: '[lb_av]' } }),
  unitRecord({ unitId: 'u-19', region: 'high-basin' }),
];
const story = linesOf(play({ days: TODAY - FIRST_DATE, gallons: (day) => 120 + ((day * 37) % 90) }));

/** A store that counts how often a unit's facts are read. */
function counting(store: Store) {
  const reads = { facts: 0 };
  const facts: Store['facts'] = (unit, page) => {
    reads.facts += 1;
    return store.facts(unit, page);
  };
  return { store: Object.assign(Object.create(store), { facts }) as Store, reads };
}

async function fleet() {
  const store = memoryStore();
  await live(store, records, [...story, ...story.map((line) => line.replace('units/u-17', 'units/u-18'))]);
  const { store: counted, reads } = counting(store);
  const made = service(counted);
  const key = await keyOf(made, COMPANY);
  const ask = async (query: string) => {
    const response = await made.ask('GET', `/v1/what-if${query}`, { key });
    return { status: response.status, text: await response.text() };
  };
  const told = async (query: string) => {
    const { status, text } = await ask(query);
    expect(status).toBe(200);
    const events = text.trim().split('\n\n');
    expect(events[0]).toMatch(/^event: progress\ndata: \{"done":\d+,"of":\d+\}$/);
    const last = events.at(-1)?.replace('event: result\ndata: ', '') ?? '';
    return whatIfSchema.parse(JSON.parse(last));
  };
  return { ask, told, reads };
}

it('answers for all units, tells whom to visit, and adds up by region; asks the table for facts once', async () => {
  const { told, reads } = await fleet();
  const all = await told('');
  expect(all).toMatchObject({ units: 2, extrapolated: 1, leftOut: { 'history-too-short': 1 } });
  expect(all.visits).toMatchObject([
    {
      ...{ unitId: 'u-18', siteName: null, region: 'high-basin', cause: 'capacity-too-low' },
      programmed: { capacityGrains: 20_000 },
      // 25,500 at 10 lb a cubic foot and 30,000 at 15: between them 27,300 at 12.
      set: { capacityGrains: 27_000 },
    },
  ]);
  expect(all.visits[0]?.saves.saltLb.low).toBeGreaterThan(40);
  const before = reads.facts;
  const [one, other] = [await told('?region=alder-county'), await told('?region=high-basin&correct=true')];
  expect(reads.facts).toBe(before);
  const salt = (result: typeof all) => result.estimates?.saltLb.difference.value ?? Number.NaN;
  expect(salt(one) + salt(other)).toBeCloseTo(salt(all), 6);
  // What is set right stays as it is.
  expect(one.estimates?.saltLb.difference).toEqual({ value: 0, low: 0, high: 0 });
});

it('combines a dose, a reserve and a salt, with what to mind about them', async () => {
  const { told } = await fleet();
  const combined = await told('?dose=4&reserve=forecast&salt=KCl');
  expect(combined.imagined.sodiumLb).toBe(0);
  expect(combined.imagined.potassiumLb).toBeCloseTo(0.52445 * combined.imagined.saltLb, 1);
  expect(combined.cautions.join(' ')).toMatch(/physician.*water authority.*licensed practice/);
  // Old questions get what they got: the sum of the units whose past tells.
  const old = await told('?dose=4');
  expect(old.imagined.chlorideLb).toBeCloseTo(0.60663 * old.imagined.saltLb, 1);
  expect(old.cautions.join(' ')).not.toMatch(/physician/);
});

it.each([
  ['?dose=6&correct=true', 'question-contradicts'],
  ['?dose=2', 'request-invalid'],
  ['?reserve=none', 'request-invalid'],
  ['?salt=CaCl2', 'request-invalid'],
  ['?does=6', 'request-invalid'],
])('refuses %s with a problem that says why', async (query, code) => {
  const { ask } = await fleet();
  const { status, text } = await ask(query);
  expect(status).toBe(400);
  expect(JSON.parse(text)).toMatchObject({ type: `/problems/${code}`, errors: [{}] });
});

it('names a parameter that it does not know', async () => {
  const { text } = await (await fleet()).ask('?does=6');
  expect(JSON.parse(text)).toMatchObject({ errors: [{ parameter: 'does' }] });
});

it('knows no region that no unit is in: says which there are, and is free for the next question', async () => {
  const { ask, told } = await fleet();
  const { status, text } = await ask('?region=nowhere');
  expect(status).toBe(404);
  expect(JSON.parse(text)).toMatchObject({
    type: '/problems/region-unknown',
    detail: 'Ask for one of these: alder-county, high-basin.',
  });
  const { replayed } = await told('?region=alder-county&dose=6');
  expect(replayed?.leastDays).toBeGreaterThanOrEqual(60);
  expect(replayed?.medianDays).toBeGreaterThanOrEqual(replayed?.leastDays ?? 999);
});
