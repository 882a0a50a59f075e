import { readFile } from 'node:fs/promises';
import axe from 'axe-core';
import { parse } from 'csv-parse/sync';
import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, expect, test } from 'vitest';
import * as z from 'zod';
import { startBrowser } from '../support/browser.ts';
import { type DemoService, goTo, settled, startDemo, windowOf } from './demoService.ts';
import { AIKO, DANA, TOMAS } from './pages.ts';

let demo: DemoService;
let browser: Browser;

beforeAll(async () => {
  [demo, browser] = await Promise.all([startDemo(40), startBrowser()]);
}, 240_000);

afterAll(async () => {
  await browser?.close();
  await demo?.stop();
});

async function violations(page: Page): Promise<string[]> {
  await page.evaluate(axe.source);
  const found = await page.evaluate<{ violations: { id: string }[] }>('axe.run(document)');
  return found.violations.map(({ id }) => id);
}

test('a dispatcher narrows deliveries to a round by the keyboard, and downloads its units', async () => {
  const { page, context } = await windowOf(browser, demo.service.url, DANA);
  await page.getByRole('link', { name: 'Deliveries' }).click();
  await page.getByRole('heading', { name: 'Bags by week' }).waitFor({ timeout: 30_000 });
  await settled(page);
  const region = page.getByLabel('Region');
  await region.focus();
  await page.keyboard.type('high');
  await page.getByRole('heading', { name: 'Bags by week: high basin' }).waitFor();
  const round = page.getByLabel('Round', { exact: true });
  // Only the rounds of the region are offered.
  expect(await round.getByRole('option', { name: 'mill road' }).count()).toBe(0);
  await page.getByLabel('Region').selectOption({ label: 'All regions' });
  await page.getByRole('heading', { name: 'Bags by week', exact: true }).waitFor();
  await settled(page);
  const shown = await page
    .locator('main')
    .getByRole('link')
    .evaluateAll((links) => links.map((link) => link.getAttribute('href')));
  const downloading = page.waitForEvent('download');
  await page.getByRole('button', { name: 'Download CSV' }).click();
  const text = await readFile(await (await downloading).path(), 'utf8');
  const rows = z
    .array(z.looseObject({ unit_id: z.string(), week: z.string() }))
    .parse(parse(text, { columns: true }));
  const dated = rows.filter(({ week }) => week !== '').map(({ unit_id }) => `/units/${unit_id}`);
  expect(dated.length).toBeGreaterThan(0);
  for (const href of dated) expect(shown).toContain(href);
  // Those without a date are behind a fold.
  await page.locator('summary', { hasText: 'without a date' }).click();
  const [first] = rows.filter(({ week }) => week === '');
  await page.locator(`main a[href="/units/${first?.unit_id}"]`).waitFor();
  await page.locator(`main a[href="${dated[0]}"]`).first().click();
  await page
    .getByText(/round |Last report/)
    .first()
    .waitFor();
  await context.close();
}, 120_000);

test.each([
  ['light', 1280],
  ['dark', 390],
] as const)(
  'stands before axe, %s and %i pixels wide, and nothing is cut off',
  async (colorScheme, width) => {
    const viewport = { width, height: 900 };
    const { page, context } = await windowOf(browser, demo.service.url, AIKO, { colorScheme, viewport });
    await goTo(page, '/deliveries');
    await page.getByRole('heading', { name: 'Bags by week' }).waitFor({ timeout: 30_000 });
    await settled(page);
    await page.locator('summary', { hasText: 'without a date' }).click();
    expect(await violations(page)).toEqual([]);
    expect(await page.evaluate<number>('document.documentElement.scrollWidth')).toBe(width);
    await context.close();
  },
  120_000,
);

test('says what to do where no unit has a date, no round is known, or there is no unit', async () => {
  const { page, context } = await windowOf(browser, demo.service.url, DANA);
  const week = { units: 0, bags: 0, lb: 0, byRateLb: 0, askedBags: { value: 0, low: 0, high: 0 } };
  const others = { 'set-up': 1, 'out-of-service': 0, 'nothing-reported': 0, 'never-regenerates': 0 };
  const nothing = {
    ...{
      bagLb: 40,
      units: 1,
      rounds: [],
      dated: [],
      byRate: [],
      regions: [{ region: 'a', rounds: [null] }],
    },
    weeks: [0, 1, 2, 3, 4].map((each) => ({ week: each, from: null, to: '2026-12-01' })),
    total: [0, 1, 2, 3, 4].map((each) => ({ ...week, week: each })),
    others: { ...others, 'beyond-a-year': 0, later: 0 },
  };
  const place = { unitId: 'u-1', siteId: 's-1', siteName: null, address: null, region: 'a', round: null };
  const byRate = [{ ...place, lbPerWeek: 9, lastReported: null, visits: [], why: 'no-sensor' }];
  for (const [answer, words] of [
    [{ ...nothing, units: 0, regions: [] }, 'There is no unit yet'],
    [nothing, 'No unit needs salt in these weeks'],
    [{ ...nothing, byRate }, 'No unit is on a round'],
    [{ ...nothing, byRate }, 'No unit has a date in these weeks'],
  ] as const) {
    await page.route('**/v1/deliveries', (route) => route.fulfill({ json: answer }));
    await page.goto(`${demo.service.url}/deliveries`);
    await page.getByText(words).first().waitFor();
    await page.unroute('**/v1/deliveries');
  }
  await context.close();
}, 120_000);

test('is no page in the navigation of a technician', async () => {
  const { page, context } = await windowOf(browser, demo.service.url, TOMAS);
  await page.getByRole('link', { name: 'Visits' }).waitFor();
  expect(await page.getByRole('link', { name: 'Deliveries' }).count()).toBe(0);
  await context.close();
}, 60_000);
