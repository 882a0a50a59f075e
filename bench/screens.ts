/**
 * Pictures of every page of the console, from the demonstration's fleet: on a desktop and on a phone, light, and the list
 * and the unit in the dark as well. Needs Chromium, and a built console.
 *
 * usage: node bench/run.js screens [--out docs/screens] [--units 200]
 */
import { mkdir } from 'node:fs/promises';
import { join } from 'node:path';
import { parseArgs } from 'node:util';
import type { Page } from 'playwright-core';
import { goTo, settled, startDemo, windowOf } from '../tests/console/demoService.ts';
import { DANA, pagesOf, TOMAS } from '../tests/console/pages.ts';
import { startBrowser } from '../tests/support/browser.ts';

const { values } = parseArgs({
  options: { out: { type: 'string', default: 'docs/screens' }, units: { type: 'string', default: '200' } },
});
const DESKTOP = { viewport: { width: 1280, height: 900 } };
const PHONE = { viewport: { width: 390, height: 844 }, deviceScaleFactor: 2 };
/** As much of a long page as tells what it is, pixels. */
const TALLEST = { desktop: 1900, phone: 2200 };
const DARK = new Set(['needs-attention', 'unit']);
const ON_PHONE = new Set(['needs-attention', 'unit', 'brief', 'visits']);

await mkdir(values.out, { recursive: true });
const demo = await startDemo(Number(values.units));
const browser = await startBrowser();
try {
  const { items } = await demo.service.ports.store.attention(demo.companyId, { limit: 1000 });
  const unitId = items.find(({ kind }) => kind === 'no-flow')?.unitId ?? '';
  await planVisit(unitId);
  const pages = pagesOf(unitId);
  for (const [form, options] of Object.entries({ desktop: DESKTOP, phone: PHONE })) {
    for (const by of new Set(pages.map((each) => each.by))) {
      const { page, context } = await windowOf(browser, demo.service.url, by, options);
      for (const { name, path } of pages.filter((each) => each.by === by)) {
        if (form === 'phone' && !ON_PHONE.has(name)) continue;
        await goTo(page, path);
        await picture(page, `${name}-${form}`, form === 'phone' ? TALLEST.phone : TALLEST.desktop);
        if (form === 'phone' || !DARK.has(name)) continue;
        await page.emulateMedia({ colorScheme: 'dark' });
        await picture(page, `${name}-dark`, TALLEST.desktop);
        await page.emulateMedia({ colorScheme: 'light' });
      }
      await context.close();
    }
  }
} finally {
  await browser.close();
  await demo.stop();
}

async function picture(page: Page, name: string, tallest: number) {
  await settled(page);
  // What is drawn when it comes within sight.
  await page.waitForTimeout(1500);
  const size = page.viewportSize() ?? DESKTOP.viewport;
  const tall = await page.evaluate<number>('document.documentElement.scrollHeight');
  await page.setViewportSize({ width: size.width, height: Math.min(tall, tallest) });
  await page.waitForTimeout(300);
  await page.screenshot({ path: join(values.out, `${name}.png`) });
  await page.setViewportSize(size);
  console.log(`${name}.png`);
}

/** So that the technician has somewhere to go, and the brief somebody to go there. */
async function planVisit(unitId: string) {
  const { page, context } = await windowOf(browser, demo.service.url, DANA, DESKTOP);
  await goTo(page, `/units/${unitId}`);
  await page.getByRole('button', { name: /^Act/ }).first().click();
  await page.getByRole('button', { name: 'Plan a visit' }).click();
  await page.getByLabel('Technician').selectOption({ label: TOMAS });
  await page.getByRole('button', { name: 'Plan the visit' }).click();
  await page.getByRole('status').getByText(TOMAS).waitFor();
  await context.close();
}
