import { readFile } from 'node:fs/promises';
import { join } from 'node:path';
import { DuckDBInstance } from '@duckdb/node-api';
import { parse } from 'csv-parse/sync';
import type { Browser, Locator, Page } from 'playwright-core';
import { afterAll, beforeAll, expect, test, vi } from 'vitest';
import { formatInstant } from '../../shared/time/instant.ts';
import { parseLocalDate } from '../../shared/time/localDate.ts';
import { zoneNamed } from '../../shared/time/zone.ts';
import { startBrowser } from '../support/browser.ts';
import { type DemoService, goTo, startDemo, windowOf } from './demoService.ts';
import { AIKO, DANA, OLU, TOMAS } from './pages.ts';

const PHONE = { viewport: { width: 390, height: 844 }, isMobile: true, hasTouch: true };

let demo: DemoService;
let browser: Browser;

beforeAll(async () => {
  [demo, browser] = await Promise.all([startDemo(24), startBrowser()]);
}, 240_000);

afterAll(async () => {
  await browser?.close();
  await demo?.stop();
});

/** What the page complains of; that nobody has signed in yet is none. */
function complaintsOf(page: Page): string[] {
  const complaints: string[] = [];
  page.on('pageerror', (error) => complaints.push(String(error)));
  page.on('console', (message) => {
    if (message.type() === 'error' && !message.text().includes('401')) complaints.push(message.text());
  });
  return complaints;
}

/** Rows follow each other, however they have come to where they are. */
async function expectNoOverlap(page: Page): Promise<void> {
  await page.waitForTimeout(500);
  const rows = page.locator('[role=row][data-index]');
  const boxes = await Promise.all((await rows.all()).map((each) => each.boundingBox()));
  const ordered = boxes.flatMap((box) => (box ? [box] : [])).sort((a, b) => a.y - b.y);
  expect(ordered.length).toBeGreaterThan(0);
  for (const [index, { y }] of ordered.slice(1).entries()) {
    const before = ordered[index];
    expect(y).toBeGreaterThanOrEqual((before?.y ?? 0) + (before?.height ?? 0) - 1);
  }
}

/** Goes on by the tabulator until something has the focus, as those must who have no pointer. */
async function tabTo(page: Page, wanted: Locator): Promise<void> {
  await wanted.waitFor();
  for (let step = 0; step < 80; step++) {
    if (await wanted.evaluate((node) => node === node.ownerDocument.activeElement)) return;
    await page.keyboard.press('Tab');
  }
  throw new Error('the tabulator does not lead there');
}

/** The number that a table's row has in a column; what stands beneath it is left out. */
async function numberIn(row: Locator, column: string): Promise<number> {
  const [text] = await row.locator(`[data-label="${column}"]`).allInnerTexts();
  return Number(text?.split('\n')[0]?.replaceAll(/[,<]/g, ''));
}

/** Clicks what downloads a file, and tells where that is kept. */
async function downloadOf(page: Page, label: string): Promise<string> {
  const [download] = await Promise.all([
    page.waitForEvent('download'),
    page.getByRole('button', { name: label, exact: true }).click(),
  ]);
  return download.path();
}

async function stalled() {
  const { items } = await demo.service.ports.store.attention(demo.companyId, { limit: 100 });
  const row = items.find(({ kind }) => kind === 'no-flow');
  if (!row?.siteName || !row.lastReported) throw new Error('no meter of the demonstration has stalled');
  return { ...row, siteName: row.siteName, lastReported: row.lastReported };
}

/** The meter counts again: the last day that was reported as empty turns out not to have been. */
async function meterCounts({ unitId, lastReported, timeZone }: Awaited<ReturnType<typeof stalled>>) {
  const date = parseLocalDate(lastReported) ?? 0;
  const closed = zoneNamed(timeZone)?.startOf(date + 1) ?? 0;
  const event = {
    ...{ specversion: '1.0', id: `mended-${unitId}`, type: 'brinebell.flow-day.v1' },
    source: `/companies/${demo.companyId}/units/${unitId}`,
    time: formatInstant(Math.max(closed, demo.service.ports.now() - 60_000)),
    data: { date: lastReported, volume: { value: 140, unit: '[gal_us]' } },
  };
  const key = await readFile(join(demo.dataDir, 'demo-key'), 'utf8');
  const answer = await fetch(`${demo.service.url}/v1/events`, {
    method: 'POST',
    headers: { authorization: `Bearer ${key.trim()}`, 'content-type': 'application/cloudevents+json' },
    body: JSON.stringify(event),
  });
  expect(answer.status).toBe(202);
}

test('a dispatcher finds a stalled meter and plans a visit; the technician gets the brief, goes there and reports; the alert clears', async () => {
  const unit = await stalled();
  const { page: desk } = await windowOf(browser, demo.service.url, DANA);
  const complaints = complaintsOf(desk);
  await desk.getByLabel('Kind').selectOption({ label: 'No flow registered' });
  const row = desk.getByRole('row').filter({ hasText: unit.siteName });
  await row.getByText('The meter has registered nothing').waitFor();
  await desk.getByLabel('Kind').selectOption({ index: 0 });
  await desk.getByLabel('Severity').selectOption({ label: 'Soon' });
  await expectNoOverlap(desk);
  await desk.getByLabel('Severity').selectOption({ index: 0 });
  await expectNoOverlap(desk);
  await row.getByRole('button', { name: `Act on ${unit.siteName}` }).click();
  await desk.getByRole('button', { name: 'Plan a visit' }).click();
  await desk.getByLabel('Technician').selectOption({ label: TOMAS });
  await desk.getByRole('button', { name: 'Plan the visit' }).click();
  await row.getByText(TOMAS).waitFor();
  await expectNoOverlap(desk);

  const mail = await vi.waitFor(
    () => {
      const found = demo.mail.taken.find(
        ({ to, text }) => to === 'tomas@larkwater.example' && text.includes('brief'),
      );
      if (!found) throw new Error('no mail yet');
      return found;
    },
    { timeout: 20_000, interval: 100 },
  );
  expect(mail.text).toMatch(/Content-Type: application\/pdf/i);
  expect(mail.text.replaceAll('=\r\n', '')).toContain(`/units/${unit.unitId}/brief`);

  const { page: phone, context } = await windowOf(browser, demo.service.url, TOMAS, PHONE);
  const onPhone = complaintsOf(phone);
  await phone.goto(`${demo.service.url}/units/${unit.unitId}/brief`);
  await phone.getByRole('heading', { name: 'What you found' }).waitFor();
  await expect(phone.getByText(unit.siteName).first().isVisible()).resolves.toBe(true);
  await phone.getByText('licensed practice').first().waitFor();
  await phone.getByLabel('Meter stalled').check();
  await phone.getByLabel('Work done').fill('turbine replaced');
  await phone.getByLabel('Cold softened tap').fill('18');
  // Down in the basement there is no network: what was written waits, and goes out by itself.
  await context.setOffline(true);
  await phone.getByRole('button', { name: 'Send the report' }).click();
  await phone.getByText('1 report is not sent yet').waitFor();
  await context.setOffline(false);
  await vi.waitFor(
    async () => {
      const { items } = await demo.service.ports.store.facts(
        { companyId: demo.companyId, unitId: unit.unitId },
        { limit: 1000 },
      );
      if (!items.some(({ line }) => line.includes('turbine replaced'))) throw new Error('not reported yet');
    },
    { timeout: 30_000, interval: 200 },
  );
  await meterCounts(unit);
  await row.waitFor({ state: 'detached', timeout: 20_000 });
  expect(await demo.service.ports.store.visits({ companyId: demo.companyId, unitId: unit.unitId })).toEqual(
    [],
  );
  expect(complaints).toEqual([]);
  // A request that was on its way when the network went is told as failed, one made without it as disconnected.
  expect(onPhone.filter((text) => !/net::ERR_(INTERNET_DISCONNECTED|FAILED)/.test(text))).toEqual([]);
}, 180_000);

test('an analyst reads a month of a region, and downloads a Parquet file that DuckDB reads back to the same totals', async () => {
  const { page, context } = await windowOf(browser, demo.service.url, AIKO);
  const complaints = complaintsOf(page);
  await page.getByRole('link', { name: 'Regions' }).click();
  const file = await downloadOf(page, 'Accounts, Parquet');
  const connection = await (await DuckDBInstance.create(':memory:')).connect();
  const month = await page.getByLabel('Month', { exact: true }).inputValue();
  const reader = await connection.runAndReadAll(
    `select region, salt_used_lb as lb, salt_used_high_lb - salt_used_low_lb as width from read_parquet('${file}') where month = '${month}' order by region`,
  );
  const regions = reader.getRowObjects();
  expect(regions.length).toBeGreaterThan(1);
  const totals = page.getByRole('region', { name: /by region$/ });
  for (const { region, lb, width } of regions) {
    const row = totals.getByRole('row').filter({ hasText: String(region).replaceAll('-', ' ') });
    // To the digits that its interval supports, and to four.
    const off = Math.max(0.5, Number(width) / 4, 0.0005 * Number(lb));
    expect(Math.abs((await numberIn(row, 'Salt, lb')) - Number(lb))).toBeLessThanOrEqual(off);
  }
  connection.closeSync();
  // Each pound of salt that the water did not need has a cause; the page adds up the twelve months of a region.
  const [{ region } = { region: '' }] = regions;
  await page.getByLabel('Salt of').selectOption(String(region));
  const causes = page.getByRole('table', { name: /did not need/ });
  const lbs = await Promise.all(
    (await causes.locator('tbody tr').all()).map((row) => numberIn(row, 'Salt, lb')),
  );
  expect(lbs.length).toBeGreaterThan(0);
  expect(lbs).toEqual(lbs.toSorted((one, other) => other - one));
  // Each is told with two digits: 5 % off at the most.
  const [, all = ''] =
    /([\d,.]+)\slb \([<\d]+\s%\) went/.exec(
      (await page.getByText(/went beyond what the water needed/).allInnerTexts()).join(),
    ) ?? [];
  expect(
    Math.abs(lbs.reduce((sum, lb) => sum + lb, 0) - Number(all.replaceAll(',', ''))),
  ).toBeLessThanOrEqual(0.1 * lbs.reduce((sum, lb) => sum + lb, 0));
  expect(new URL(page.url()).searchParams.get('region')).toBe(region);
  expect(complaints).toEqual([]);
  await context.close();
}, 120_000);

test('an analyst has the accounts to share, which withhold what could be told of few homes, and the words for each column', async () => {
  const { page, context } = await windowOf(browser, demo.service.url, AIKO);
  await page.getByRole('link', { name: 'Regions' }).click();
  await page.getByRole('link', { name: 'Download the accounts' }).click();
  const rowsOf = async (label: string): Promise<Readonly<Record<string, string>>[]> =>
    parse(await readFile(await downloadOf(page, label)), { columns: true });
  const own = await rowsOf('Accounts, CSV');
  const shared = await rowsOf('Accounts to share, CSV');
  const words = await rowsOf('Data dictionary, CSV');
  expect(shared.length).toBe(own.length);
  expect(own.every((row) => row.salt_used_lb !== '')).toBe(true);
  const few = shared.filter(({ suppressed }) => suppressed !== '');
  expect(few.length).toBeGreaterThan(0);
  for (const row of shared) if (row.salt_used_lb === '') expect(row.suppressed).not.toBe('');
  const described = words.map(({ column }) => column);
  expect(described).toEqual(expect.arrayContaining(Object.keys(shared[0] ?? {})));
  await context.close();
}, 120_000);

test('accounts that cannot be had at once are asked for again; what fails on says so; those of last night say so, too', async () => {
  const { page, context } = await windowOf(browser, demo.service.url, AIKO);
  let asked = 0;
  const failing = new Set([0, 2, 3, 4, 5]);
  await page.route('**/v1/accounts', async (route) => {
    const time = asked++;
    if (failing.has(time)) return route.fulfill({ status: 503, body: '' });
    const response = await route.fetch();
    const told: { asOf: string } = await response.json();
    // The last answer is of eight hours before.
    const asOf = time === 6 ? formatInstant(Date.parse(told.asOf) - 8 * 3_600_000) : told.asOf;
    return route.fulfill({ response, json: { ...told, asOf } });
  });
  await page.getByRole('link', { name: 'Regions' }).click();
  await page.getByText('Asking for the accounts').waitFor();
  await page.getByText(/^Worked out on .*until then\.$/).waitFor();
  await page.reload();
  await page.getByRole('alert').getByRole('button', { name: 'Try again' }).click({ timeout: 30_000 });
  await page.getByText(/^Worked out on .* These are the accounts of last night/).waitFor();
  expect(asked).toBe(7);
  await context.close();
}, 120_000);

test('an analyst asks what if, by the keyboard alone, and keeps the visits that bring most as CSV', async () => {
  const { page } = await windowOf(browser, demo.service.url, AIKO);
  const complaints = complaintsOf(page);
  await goTo(page, '/regions');
  await page.getByLabel('Settings', { exact: true }).selectOption({ label: 'As they are' });
  const work = page.getByRole('button', { name: 'Work it out' });
  expect(await work.isDisabled()).toBe(true);
  await page.getByText('Choose what is to be otherwise').waitFor();
  await page.getByLabel('Settings', { exact: true }).selectOption({ label: 'Those set wrong set right' });
  await page.getByLabel('Salt', { exact: true }).selectOption({ label: 'Potassium chloride' });
  await tabTo(page, work);
  await page.keyboard.press('Enter');
  await page.getByText('a year of 24 units, with 80 % intervals').waitFor();
  await page.getByRole('rowheader', { name: 'Potassium into softened water' }).waitFor();
  await page.getByText('ask your physician').first().waitFor();
  await page.getByText('water authority').first().waitFor();
  await page.getByRole('heading', { name: 'Visits that bring most' }).waitFor();
  const csv = page.getByRole('button', { name: 'Download CSV' }).last();
  if ((await page.getByRole('region', { name: 'Visits that bring most' }).getByRole('link').count()) > 0) {
    const downloading = page.waitForEvent('download');
    await tabTo(page, csv);
    await page.keyboard.press('Enter');
    const text = await readFile(await (await downloading).path(), 'utf8');
    expect(text).toMatch(/^unit_id,site,region,cause,.*salt_saved_lb_a_year/);
  }
  expect(complaints).toEqual([]);
}, 120_000);

test('an owner adds somebody, finds it in the audit trail, and takes them off again', async () => {
  const { page } = await windowOf(browser, demo.service.url, OLU);
  const complaints = complaintsOf(page);
  await page.getByRole('link', { name: 'People' }).click();
  await page.getByRole('button', { name: 'Add somebody' }).click();
  await page.getByLabel('Name').fill('Noor Whitfield');
  await page.getByLabel('Mail').fill('noor@larkwater.example');
  await page.getByRole('dialog').getByRole('button', { name: 'Add' }).click();
  await page.getByRole('cell', { name: 'noor@larkwater.example' }).waitFor();
  await page.getByRole('link', { name: 'Audit trail' }).click();
  await page.getByText(`${OLU} (owner)`).first().waitFor();
  await page.getByRole('link', { name: 'People' }).click();
  await page.getByRole('button', { name: 'Take off Noor Whitfield' }).click();
  await page.getByRole('dialog').getByRole('button', { name: 'Take off' }).click();
  await page.getByRole('cell', { name: 'noor@larkwater.example' }).waitFor({ state: 'detached' });
  expect(complaints).toEqual([]);
}, 60_000);

/** Each act on a unit: its name, the button of its form if it has one, what is said of it, and whether it can be undone. */
const ACTS = [
  ['Acknowledge', undefined, /^Acknowledged/, true],
  ['Shelve until …', 'Shelve', /^Shelved until/, true],
  ['Plan a visit', 'Plan the visit', /^Visit planned/, true],
  ['Household away', 'They are away', /noted as away/, false],
  ['Household at home', 'They were at home', /noted as at home/, false],
  ['Out of service', 'Take out of service', /^Out of service/, true],
] as const;

test.each(ACTS)(
  '%s: by the keyboard alone, and undone so',
  async (name, submits, says, canBeUndone) => {
    const { page, context } = await windowOf(browser, demo.service.url, DANA);
    // Each on a unit that is on the list now.
    const act = page.getByRole('button', { name: /^Act on/ }).last();
    await tabTo(page, act);
    await page.keyboard.press('Enter');
    const dialog = page.getByRole('dialog');
    await tabTo(page, dialog.getByRole('button', { name }));
    await page.keyboard.press('Enter');
    if (submits) {
      await tabTo(page, dialog.getByRole('button', { name: submits }));
      await page.keyboard.press('Enter');
    }
    await page.getByRole('status').getByText(says).waitFor();
    await dialog.waitFor({ state: 'detached' });
    const undo = page.getByRole('button', { name: 'Undo' });
    expect(await undo.count()).toBe(canBeUndone ? 1 : 0);
    if (canBeUndone) {
      await tabTo(page, undo);
      await page.keyboard.press('Enter');
      await undo.waitFor({ state: 'detached' });
    }
    await context.close();
  },
  60_000,
);
