import { describe, expect, it } from 'vitest';
import { problemSchema } from '../../../functions/api/problemSchema.ts';
import { monthlyReports } from '../../../functions/monthlyReports.ts';
import { givenOf } from '../../lib/salt/report/accounts.ts';
import { memoryFiles } from '../../support/memoryFiles.ts';
import { lines, records } from '../../support/smallFleet.ts';
import { keyOf, live, service } from './service.ts';

/** The small fleet of two regions, in March 2026; its clock shows the 30th of it. */
async function fleet() {
  const made = service();
  const key = await keyOf(made, 'fenwick-water');
  await live(made.store, records, lines);
  const ask = (path: string, by = key) => made.ask('GET', `/v1/regions/${path}`, { key: by });
  return { store: made.store, whole: made, key, ask };
}

function bare(html: string): string {
  return html
    .replace(/<style>[\s\S]*?<\/style>/, '')
    .replaceAll(/<[^>]*>/g, '')
    .replaceAll(/\s/g, '');
}

describe('the report of a region’s month', () => {
  it('is a page that can do nothing, or a PDF of the paper that is asked for', async () => {
    const { ask } = await fleet();
    const page = await ask('high-basin/reports/2026-03.html');
    expect([page.status, page.headers.get('content-type')]).toEqual([
      200,
      expect.stringMatching(/^text\/html; charset=utf-8/i),
    ]);
    expect(page.headers.get('content-security-policy')).toContain("default-src 'none'");
    const text = bare(await page.text());
    expect(text).toContain('2softenerswerewatchedinMarch2026');
    expect(text).toContain('isnotoveryet');
    expect(text).toMatch(/Saltused[\d,.]+lb/);
    expect(bare(await (await ask('high-basin/reports/2026-03.html?units=metric')).text())).toMatch(
      /Saltused[\d,.]+kg/,
    );
    const pdf = await ask('high-basin/reports/2026-03.pdf?paper=letter');
    expect(pdf.headers.get('content-type')).toBe('application/pdf');
    expect(pdf.headers.get('content-disposition')).toContain('high-basin-2026-03.pdf');
    const bytes = Buffer.from(await pdf.arrayBuffer()).toString('latin1');
    expect(bytes).toMatch(/^%PDF-/);
    expect(bytes).toContain('/MediaBox [0 0 612 792]');
  });

  it('tells the same salt as the accounts', async () => {
    const { ask, whole, key } = await fleet();
    const accounts = await whole.ask('GET', '/v1/accounts?region=high-basin&month=2026-03', { key });
    const { items } = JSON.parse(await accounts.text());
    const text = bare(await (await ask('high-basin/reports/2026-03.html')).text());
    const told = Number(/Saltused([\d,.]+)lb/.exec(text)?.[1]?.replaceAll(',', ''));
    expect(Math.abs(told - items[0].salt_used_lb)).toBeLessThanOrEqual(
      Math.max(0.5, (items[0].salt_used_high_lb - items[0].salt_used_low_lb) / 4),
    );
    expect(told).toBeGreaterThan(0);
  });

  it('withholds what is of few softeners where it is to be shared', async () => {
    const { ask } = await fleet();
    const text = bare(await (await ask('high-basin/reports/2026-03.html?shared=true')).text());
    expect(text).toContain('Withheld');
    expect(text).not.toMatch(/Saltused[\d,.]+lb/);
  });

  it('says what there is where there is nothing', async () => {
    const { ask } = await fleet();
    const refused = async (path: string) => problemSchema.parse(await (await ask(path)).json());
    expect(await refused('nowhere/reports/2026-03.html')).toMatchObject({
      ...{ type: '/problems/region-unknown', status: 404 },
      detail: expect.stringContaining('alder-county, high-basin'),
    });
    expect(await refused('high-basin/reports/2025-12.pdf')).toMatchObject({
      ...{ type: '/problems/month-unknown', status: 404 },
      detail: expect.stringContaining('2026-03'),
    });
    expect(await refused('high-basin/reports/2027-01.pdf')).toMatchObject({
      detail: expect.stringContaining('in the future'),
    });
    for (const file of ['2026-3.html', '2026-13.html', '2026-03.docx', '2026-03', '2026-03.html.pdf']) {
      expect([file, (await refused(`high-basin/reports/${file}`)).type]).toEqual([
        file,
        '/problems/request-invalid',
      ]);
    }
  });

  it('of another company is as unknown as one of nobody', async () => {
    const { ask, store } = await fleet();
    const other = await keyOf(service(store), 'other-water');
    const answers = await Promise.all(
      ['high-basin', 'nobodys'].map(async (region) =>
        (await ask(`${region}/reports/2026-03.html`, other)).text(),
      ),
    );
    expect(answers[0]).toBe(answers[1]);
    expect(answers[0]).not.toContain('high-basin');
  });
});

describe('the monthly report', () => {
  it('is put beside the other reports of its company when its month is over, once for each account', async () => {
    const { files, kept } = memoryFilesOf();
    const { accounts } = givenOf(30);
    const company = { companyId: 'larkwater', name: 'Larkwater Softening' };
    const april = { until: Date.parse('2026-04-03T00:00:00Z'), leastUnits: 5 };
    const write = (told = accounts, when = april) => monthlyReports(files, company, told, when);
    expect(await write()).toBe(1);
    const paths = await files.list('reports/larkwater/regions/');
    expect(paths).toEqual([
      expect.stringMatching(/^reports\/larkwater\/regions\/alder-county\/2026-03-[0-9a-f]{8}\.html$/),
      expect.stringMatching(/^reports\/larkwater\/regions\/alder-county\/2026-03-[0-9a-f]{8}\.pdf$/),
    ]);
    const [html, pdf] = await Promise.all(paths.map(kept));
    expect(bare(html ?? '')).toContain('30softenerswerewatched');
    expect(pdf).toMatch(/^%PDF-/);

    expect(await write()).toBe(0);
    const restated = accounts.map(({ account, withheld }) => ({
      ...{ account: { ...account, deliveredSaltLb: account.deliveredSaltLb + 40 }, withheld },
    }));
    expect(await write(restated)).toBe(1);
    // March goes on, so that its report is not due; February's is.
    expect(await write(accounts, { ...april, until: Date.parse('2026-03-30T00:00:00Z') })).toBe(1);
    expect((await files.list('reports/larkwater/regions/')).map((path) => path.slice(39, 46))).toEqual(
      ['02', '02', '03', '03', '03', '03'].map((month) => `2026-${month}`),
    );
  });
});

function memoryFilesOf() {
  const { files } = memoryFiles();
  const kept = async (path: string) => {
    const file = await files.open(path);
    return Buffer.from(await file.slice(0)).toString('latin1');
  };
  return { files, kept };
}
