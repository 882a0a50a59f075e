import { readFile } from 'node:fs/promises';
import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, expect, it } from 'vitest';
import { startBrowser } from '../support/browser.ts';
import { type DemoService, startDemo, windowOf } from './demoService.ts';
import { OLU } from './pages.ts';

let demo: DemoService;
let browser: Browser;
let page: Page;

beforeAll(async () => {
  demo = await startDemo(24);
  browser = await startBrowser();
  ({ page } = await windowOf(browser, demo.service.url, OLU));
}, 200_000);

afterAll(async () => {
  await browser.close();
  await demo.stop();
});

it('tries rules for the owner, says what is wrong with them, and hands the page over', async () => {
  await page.getByRole('link', { name: 'Rules' }).click();
  const rules = page.getByRole('textbox');
  const tryThem = page.getByRole('button', { name: 'Try them' });
  await rules.fill('{ "overrun": { "rise": 1 } }');
  await tryThem.click();
  await page.getByText('overrun: Unrecognized key: "rise"').waitFor();
  await rules.fill('{ "no-flow": { "routine": 7 } }');
  await tryThem.click();
  await page.getByText('no-flow.routine: Too big').waitFor();
  await rules.fill('[');
  await tryThem.click();
  await page.getByText('This is not JSON').waitFor();

  await rules.fill('{ "salt-low": { "horizonDays": 60 }, "no-flow": { "routine": 0.4 } }');
  await tryThem.click();
  const download = page.getByRole('button', { name: /Download the page/ });
  await download.waitFor({ timeout: 60_000 });
  const [file] = await Promise.all([page.waitForEvent('download'), download.click()]);
  expect(file.suggestedFilename()).toBe('rule-trial-1.html');
  const text = await readFile(await file.path(), 'utf8');
  expect(text).toContain('salt-low.horizonDays');
  const lead = /([\d,]+) alerts would have been ([\d,]+): ([\d,]+) gone, ([\d,]+) new, ([\d,]+) moved/.exec(
    text,
  );
  await page.getByText('no-flow.routine 0.4 instead of 0.12').waitFor();
  // The table says what the page says.
  const all = page.getByRole('row', { name: /^All/ }).getByRole('cell');
  expect(await all.allInnerTexts()).toEqual(lead?.slice(1));
  // It is there again after the page was left.
  await page.reload();
  await download.waitFor();

  // Nothing is put in force before it is asked, and it can be undone.
  const inForce = async () => (await demo.service.ports.store.company(demo.companyId))?.rules;
  await page.getByRole('button', { name: 'Put these rules in force' }).click();
  await page.getByRole('button', { name: 'Not now' }).click();
  expect(await inForce()).toEqual({});
  await page.getByRole('button', { name: 'Put these rules in force' }).click();
  await page.getByRole('button', { name: 'Put them in force' }).click();
  await page.getByText('The rules are in force').waitFor();
  expect(await inForce()).toEqual({ 'salt-low': { horizonDays: 60 }, 'no-flow': { routine: 0.4 } });
  await page.getByRole('button', { name: 'Undo' }).click();
  await expect.poll(inForce, { timeout: 10_000 }).toEqual({});
}, 120_000);
