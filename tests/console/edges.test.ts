import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { type Service, startService } from '../../infra/local/service.ts';
import type { Person } from '../../lib/store/person.ts';
import { type UnitRecord, unitRecordSchema } from '../../shared/registry.ts';
import { startBrowser } from '../support/browser.ts';
import { unitRecord } from '../support/fleet.ts';
import { goTo, settled, windowOf } from './demoService.ts';
import { pagesOf } from './pages.ts';

const COMPANY = 'quiet-water';
const OWNER = 'Ines Varga';
const ANALYST = 'Abe Lindgren';
const LONG = 'The Old Granary behind the Upper Saltmarsh Weir, Back Entrance'.slice(0, 60);
const ARABIC = 'مزرعة النخيل القديمة عند السد';
const HEBREW = 'בית החווה הישן ליד הסכר העליון';
const PEOPLE: readonly Person[] = [
  { personId: 'o-1', mail: 'ines@quiet.example', name: OWNER, role: 'owner', units: 'us' },
  { personId: 'a-1', mail: 'abe@quiet.example', name: ANALYST, role: 'analyst', units: 'metric' },
];
const quiet = { debug: () => {}, info: () => {}, warn: () => {}, error: console.error };

let dataDir: string;
let service: Service;
let browser: Browser;

async function start(port: number): Promise<Service> {
  return startService({
    ...{ dataDir, host: '127.0.0.1', port, mqttPort: 0, env: {}, log: quiet },
    signIn: { demoCompanyId: COMPANY },
    consoleDir: new URL('../../dist/console', import.meta.url).pathname,
  });
}

beforeAll(async () => {
  dataDir = await mkdtemp(join(tmpdir(), 'brinebell-edges-'));
  [service, browser] = await Promise.all([start(0), startBrowser()]);
  await service.ports.store.putCompany({ companyId: COMPANY, name: 'Quiet Water', channels: [], rules: {} });
  for (const person of PEOPLE) await service.ports.store.putPerson(COMPANY, person);
}, 120_000);

afterAll(async () => {
  await browser?.close();
  await service?.stop();
  await rm(dataDir, { recursive: true });
});

function named(unitId: string, name?: string): UnitRecord {
  const record = unitRecord({
    unitId,
    companyId: COMPANY,
    siteId: `site-${unitId}`,
    ...(name && { site: { name } }),
  });
  return unitRecordSchema().parse(record);
}

/** Opens every page there is as the owner, who may see all, and looks whether it stands or has failed. */
async function openAll(page: Page, unitId: string | undefined): Promise<void> {
  const failures: string[] = [];
  page.on('pageerror', (error) => failures.push(String(error)));
  for (const { name, path } of pagesOf(unitId ?? 'none')) {
    if (unitId === undefined && path.includes('/units/')) continue;
    await goTo(page, path);
    // biome-ignore lint/performance/useDomNodeTextContent: what is hidden says nothing wrong.
    const text = await page.getByRole('main').innerText();
    expect([name, text]).not.toEqual([
      name,
      expect.stringMatching(/console failed|This page failed|NaN|undefined|Invalid/),
    ]);
  }
  expect(failures).toEqual([]);
}

test('every page stands without any unit, and says what to do', async () => {
  const { page, context } = await windowOf(browser, service.url, OWNER);
  await openAll(page, undefined);
  await goTo(page, '/');
  await page.getByText('Nothing needs attention').waitFor();
  await context.close();
}, 120_000);

test('every page stands with one unit of which nothing is known yet, and a unit that is nobody’s says so', async () => {
  await service.ports.store.putRecords(COMPANY, [named('u-1')]);
  const { page, context } = await windowOf(browser, service.url, OWNER);
  await openAll(page, 'u-1');
  await goTo(page, '/units/nobodys');
  await page
    .getByText(/no such unit/i)
    .first()
    .waitFor();
  await context.close();
}, 120_000);

test.each([
  ['60 characters', LONG],
  ['Arabic', ARABIC],
  ['Hebrew', HEBREW],
])(
  'names of sites are shown whole: %s',
  async (_, name) => {
    await service.ports.store.putRecords(COMPANY, [named('u-2', name)]);
    const viewport = { width: 390, height: 844 };
    const { page, context } = await windowOf(browser, service.url, OWNER, { viewport });
    for (const path of ['/units/u-2', '/units/u-2/brief']) {
      await goTo(page, path);
      await page.getByRole('heading', { name, exact: true }).first().waitFor();
      expect([path, await page.evaluate('document.documentElement.scrollWidth')]).toEqual([
        path,
        viewport.width,
      ]);
    }
    await context.close();
  },
  60_000,
);

test('what a site is called is text, whatever it looks like', async () => {
  const name = '<img src=x onerror="document.title=1"><b>bold</b>';
  await service.ports.store.putRecords(COMPANY, [named('u-3', name)]);
  const { page, context } = await windowOf(browser, service.url, OWNER);
  for (const path of ['/units/u-3', '/units/u-3/brief']) {
    await goTo(page, path);
    await page.getByText(name).first().waitFor();
    expect(await page.locator('main img').count()).toBe(0);
    expect(await page.locator('main b', { hasText: /^bold$/ }).count()).toBe(0);
    expect(await page.title()).not.toBe('1');
  }
  await context.close();
}, 60_000);

test('without the role a page says who may, and its acts are not there', async () => {
  const { page, context } = await windowOf(browser, service.url, ANALYST);
  await service.ports.store.putRecords(COMPANY, [named('u-1')]);
  expect(await page.getByRole('link', { name: 'People' }).count()).toBe(0);
  await goTo(page, '/units/u-1');
  expect(await page.getByRole('button', { name: /^Act/ }).count()).toBe(0);
  await goTo(page, '/dead-letters');
  await settled(page);
  expect(await page.getByRole('button', { name: /again/ }).count()).toBe(0);
  await context.close();
}, 60_000);

test('a sign-in that is over leads to the sign-in, and back to the same page', async () => {
  const { page, context } = await windowOf(browser, service.url, OWNER);
  await goTo(page, '/audit');
  await page.evaluate(
    `const kept = JSON.parse(sessionStorage.getItem('brinebell.session'));
     sessionStorage.setItem('brinebell.session', JSON.stringify({ ...kept, accessToken: kept.accessToken.slice(0, -4) + 'AAAA' }))`,
  );
  await page.reload();
  await page.getByRole('button', { name: new RegExp(OWNER) }).click();
  await page.waitForURL(`${service.url}/audit`);
  await settled(page);
  await context.close();
}, 60_000);

test('when the service stops the console says so and keeps what it shows; when it is back it goes on', async () => {
  const { page, context } = await windowOf(browser, service.url, OWNER);
  await goTo(page, '/people');
  const port = Number(new URL(service.url).port);
  await service.stop();
  await page.getByRole('alert').getByText('The service does not answer').waitFor({ timeout: 30_000 });
  await page.getByRole('cell', { name: 'abe@quiet.example' }).waitFor();
  service = await start(port);
  // The demonstration's provider has made itself new keys: it asks who one is.
  await page.getByRole('button', { name: new RegExp(OWNER) }).click({ timeout: 40_000 });
  await page.waitForURL(`${service.url}/people`);
  await page.getByRole('cell', { name: 'abe@quiet.example' }).waitFor();
  await context.close();
}, 120_000);
