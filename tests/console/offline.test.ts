import type { Browser } from 'playwright-core';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { startBrowser } from '../support/browser.ts';
import { type DemoService, goTo, startDemo, windowOf } from './demoService.ts';
import { TOMAS } from './pages.ts';

const PHONE = { viewport: { width: 390, height: 844 } };

let demo: DemoService;
let browser: Browser;

beforeAll(async () => {
  [demo, browser] = await Promise.all([startDemo(8), startBrowser()]);
}, 240_000);

afterAll(async () => {
  await browser?.close();
  await demo?.stop();
});

test('a brief that was opened is there without a network, and what was found arrives when it is back', async () => {
  const { service, companyId } = demo;
  const [unit] = (await service.ports.store.records(companyId, { limit: 1 })).items;
  const unitId = unit?.unitId ?? '';
  const { context, page } = await windowOf(browser, service.url, TOMAS, PHONE);
  await goTo(page, `/units/${unitId}/brief`);
  await page.getByText('it opens without a network too').waitFor();

  await context.setOffline(true);
  await page.reload();
  await page.getByRole('heading', { name: 'What the meter says' }).waitFor();
  await page.getByLabel('Nothing found').check();
  await page.getByLabel('Work done').fill('broke up the salt');
  await page.getByLabel('Salt added, lb').fill('40');
  // Loaded anew, the form is as it was.
  await page.reload();
  await page.getByRole('button', { name: 'Send the report' }).click();
  await page.getByRole('heading', { name: '1 report is not sent yet' }).waitFor();
  expect(await page.getByLabel('Work done').inputValue()).toBe('');

  await context.setOffline(false);
  await page.getByRole('heading', { name: '1 report is not sent yet' }).waitFor({ state: 'detached' });
  const ref = { companyId, unitId };
  await expect
    .poll(async () => {
      const { items } = await service.ports.store.facts(ref, { limit: 1_000 });
      return JSON.stringify(items);
    })
    .toContain('broke up the salt');

  const kept = () => page.evaluate<string[]>('caches.keys()');
  expect(await kept()).toContain('brinebell-answers');
  await page.getByRole('button', { name: 'Menu' }).click();
  await page.getByRole('link', { name: 'Sign out' }).click();
  // Whoever finds the phone learns nothing of the homes that its technician was at.
  await expect.poll(kept).toEqual(['brinebell-shell']);
  await context.close();
}, 120_000);
