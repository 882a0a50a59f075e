import axe from 'axe-core';
import type { Browser } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { startBrowser } from '../support/browser.ts';
import { type DemoService, goTo, settled, startDemo, windowOf } from './demoService.ts';
import { pagesOf } from './pages.ts';

let demo: DemoService;
let browser: Browser;
let unitId: string;

beforeAll(async () => {
  [demo, browser] = await Promise.all([startDemo(24), startBrowser()]);
  const { items } = await demo.service.ports.store.attention(demo.companyId, { limit: 100 });
  unitId = items.find(({ kind }) => kind === 'no-flow')?.unitId ?? '';
}, 240_000);

afterAll(async () => {
  await browser?.close();
  await demo?.stop();
});

interface Violation {
  readonly id: string;
  readonly nodes: readonly { readonly target: unknown; readonly failureSummary: string }[];
}

describe.each(['light', 'dark'] as const)('%s', (colorScheme) => {
  test.each([
    ['desktop', { width: 1280, height: 900 }],
    ['phone', { width: 390, height: 844 }],
  ])(
    'axe finds nothing on any page, on a %s',
    async (_, viewport) => {
      const found: [page: string, violation: string, where: string][] = [];
      const pages = pagesOf(unitId);
      for (const by of new Set(pages.map((each) => each.by))) {
        const { context, page } = await windowOf(browser, demo.service.url, by, { colorScheme, viewport });
        for (const { name, path } of pages.filter((each) => each.by === by)) {
          await goTo(page, path);
          await settled(page);
          await page.evaluate(axe.source);
          const { violations } = await page.evaluate<{ violations: Violation[] }>('axe.run(document)');
          for (const { id, nodes } of violations)
            for (const { target, failureSummary } of nodes)
              found.push([name, id, `${JSON.stringify(target)} ${failureSummary}`]);
          // Nothing is cut off at the side.
          const wide = await page.evaluate<number>('document.documentElement.scrollWidth');
          expect([name, wide]).toEqual([name, viewport.width]);
        }
        await context.close();
      }
      expect(found).toEqual([]);
    },
    240_000,
  );
});
