import { expect, test } from 'vitest';
import { runningService } from '../support/runningService.ts';
import { event, lines, records } from '../support/smallFleet.ts';

const COMPANY = 'fenwick-water';

/** A service with nothing in it but the company, and a way to fill it. */
async function emptyService() {
  const service = await runningService(COMPANY);
  return {
    ...service,
    async send(units: string, events: string) {
      await service.ask('PUT', '/v1/units', units, 'application/x-ndjson');
      await service.ask('POST', '/v1/events', events, 'application/x-ndjson');
      await service.settled();
    },
  };
}

test('what is exported of a company and imported elsewhere gives the same states, alerts and accounts', async () => {
  const from = await emptyService();
  const units = records.map((record) => JSON.stringify(record)).join('\n');
  // Beside the story: one event that comes without its receipt, a copy of another, and one that contradicts it.
  const [first = ''] = lines;
  const others = [
    event({ id: 'unreceipted', recordedtime: undefined }),
    first.replace(/"recordedtime":"[^"]*"/, `"recordedtime":"2026-05-01T00:00:00.000Z"`),
    event({ id: JSON.parse(first).id, recordedtime: '2026-05-02T00:00:00.000Z' }),
  ];
  await from.send(units, [...lines, ...others].join('\n'));

  const to = await emptyService();
  const exported = await from.get('/v1/backup/events.ndjson');
  await to.send(await from.get('/v1/backup/units.ndjson'), exported);

  expect(exported.trim().split('\n')).toHaveLength(lines.length + others.length);
  const sorted = (text: string) => text.trim().split('\n').sort();
  expect(sorted(await to.get('/v1/backup/events.ndjson'))).toEqual(sorted(exported));
  for (const { unitId } of records) {
    const ref = { companyId: COMPANY, unitId };
    const [one, other] = await Promise.all(
      [from, to].map(async ({ store }) => {
        const { stored } = await store.unit(ref, { fresh: true });
        const { state, open, knownUntil, place, firstDate } = stored?.head ?? {};
        const alerts = await store.alertsOf(ref);
        return { state, open, knownUntil, place, firstDate, alerts, months: await store.months(ref) };
      }),
    );
    expect(one?.state).toBeDefined();
    expect(other).toEqual(one);
  }
  expect(await to.get('/v1/alerts')).toBe(await from.get('/v1/alerts'));
  expect(JSON.parse(await to.get('/v1/alerts')).items.length).toBeGreaterThan(0);
  expect(await to.get('/v1/quarantine')).toBe(await from.get('/v1/quarantine'));
  const salt = (text: string) => text.split('\r\n').filter((row) => row.includes(',2026-03,'));
  expect(salt(await to.get('/v1/salt.csv'))).toEqual(salt(await from.get('/v1/salt.csv')));
  expect(salt(await to.get('/v1/salt.csv')).length).toBe(2);
  await from.stop();
  await to.stop();
});
