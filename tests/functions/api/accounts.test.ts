import { parse } from 'csv-parse/sync';
import { describe, expect, it } from 'vitest';
import { report } from '../../../functions/report.ts';
import { reportPaths } from '../../../functions/reportPaths.ts';
import { dictionaryCsv } from '../../../lib/salt/account/dictionary.ts';
import { memoryStore } from '../../support/memoryStore.ts';
import { lines, records } from '../../support/smallFleet.ts';
import { keyOf, live, NOW, service } from './service.ts';

const COMPANY = 'fenwick-water';

async function fleet() {
  const store = memoryStore();
  await live(store, records, lines);
  let now = NOW;
  const made = service(store, () => now);
  const key = await keyOf(made, COMPANY);
  const get = async (path: string) => {
    const response = await made.ask('GET', path, { key });
    return { status: response.status, headers: response.headers, text: await response.text() };
  };
  const json = async (path: string) => JSON.parse((await get(path)).text);
  return { ...made, get, json, wait: (ms: number) => (now += ms) };
}

describe('the salt accounts of a company', () => {
  it('are worked out when they are asked for until a report has been written, and then are the report’s', async () => {
    const { json, get, ports, files, wait } = await fleet();
    const before = await json('/v1/accounts');
    expect(before).toMatchObject({ shared: false, asOf: new Date(NOW).toISOString() });
    expect(before.items.map((row: Record<string, unknown>) => [row.region, row.month, row.units])).toEqual([
      ['alder-county', '2026-03', 1],
      ['high-basin', '2026-03', 2],
    ]);
    wait(1000);
    await report(ports, files)();
    wait(86_400_000);
    const after = await json('/v1/accounts');
    expect(after.asOf).toBe(new Date(NOW + 1000).toISOString());
    const { as_of: _, ...row } = after.items[0];
    expect(before.items[0]).toMatchObject(row);
    expect(before.totals).toMatchObject([{ month: '2026-03', units: 3 }]);
    expect(after.totals).toMatchObject([{ month: '2026-03', units: 3 }]);
    const text = async (path: string) => new TextDecoder().decode(await (await files.open(path)).slice(0));
    expect((await get('/v1/accounts.csv')).text).toBe(await text(reportPaths.accountsCsv(COMPANY)));
    expect((await get('/v1/accounts.csv?shared=true')).text).toBe(await text(reportPaths.sharedCsv(COMPANY)));
    expect((await get('/v1/accounts/dictionary.csv')).text).toBe(dictionaryCsv());
    expect(await text(reportPaths.dictionary(COMPANY))).toBe(dictionaryCsv());
    expect((await get('/v1/accounts.csv')).headers.get('content-type')).toBe(
      'text/csv; charset=utf-8; header=present',
    );
    expect((await get('/v1/accounts.parquet')).text.slice(0, 4)).toBe('PAR1');
  });

  it('are worked out anew where a report has other columns than those of today', async () => {
    const { json, files } = await fleet();
    const path = reportPaths.accounts(COMPANY);
    await files.put(path, JSON.stringify({ asOf: 0, items: [{ region: 'x', salt: 1 }], withheld: [{}] }));
    expect((await json('/v1/accounts')).items).toHaveLength(2);
  });

  it('can be narrowed; what is not there is told with what is', async () => {
    const { json, get } = await fleet();
    expect((await json('/v1/accounts?region=high-basin')).items).toHaveLength(1);
    expect(parse((await get('/v1/accounts.csv?region=high-basin&month=2026-03')).text)).toHaveLength(2);
    for (const path of ['/v1/accounts', '/v1/accounts.csv', '/v1/accounts.parquet']) {
      const unknown = await get(`${path}?region=no-county`);
      expect([unknown.status, JSON.parse(unknown.text)]).toEqual([
        404,
        expect.objectContaining({
          type: '/problems/account-unknown',
          detail: expect.stringContaining('alder-county, high-basin'),
        }),
      ]);
      const early = JSON.parse((await get(`${path}?region=high-basin&month=2025-03`)).text);
      expect(early).toMatchObject({
        type: '/problems/account-unknown',
        detail: expect.stringContaining('2026-03'),
      });
      for (const wrong of ['month=2026-13', 'month=March', 'shared=yes', 'region=a/b'])
        expect(JSON.parse((await get(`${path}?${wrong}`)).text)).toMatchObject({
          type: '/problems/request-invalid',
        });
    }
  });

  it('withhold of few units all but their key where they are shared, whether asked for one region or all', async () => {
    const { json } = await fleet();
    for (const path of ['/v1/accounts?shared=true', '/v1/accounts?shared=true&region=high-basin']) {
      const { shared, items, totals } = await json(path);
      expect(shared).toBe(true);
      // Less what is told they would be what is withheld.
      expect(totals).toBeUndefined();
      for (const { region, month, as_of, suppressed, ...figures } of items) {
        expect([region, month, as_of, suppressed]).not.toContain(null);
        expect(new Set(Object.values(figures))).toEqual(new Set([null]));
      }
    }
  });
});
