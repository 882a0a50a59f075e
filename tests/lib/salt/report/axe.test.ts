import axe from 'axe-core';
import type { Browser } from 'playwright-core';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { METHOD } from '../../../../lib/salt/account/method.ts';
import type { ReportGiven } from '../../../../lib/salt/report/given.ts';
import { reportHtml } from '../../../../lib/salt/report/html.ts';
import { regionReport } from '../../../../lib/salt/report/regionReport.ts';
import { startBrowser } from '../../../support/browser.ts';
import { deliveriesOf, givenOf, yearOf } from './accounts.ts';

let browser: Browser;

beforeAll(async () => {
  browser = await startBrowser();
});

afterAll(async () => browser?.close());

interface Violation {
  readonly id: string;
  readonly nodes: readonly { readonly target: unknown; readonly failureSummary: string }[];
}

const LONG = 'W'.repeat(64);
const cases: readonly [name: string, given: ReportGiven][] = [
  ['usual', givenOf(214, { method: METHOD, deliveries: deliveriesOf(20, 5) })],
  [
    'long name, shared',
    givenOf(9, { region: LONG, accounts: yearOf(9, { region: LONG }), isShared: true, system: 'metric' }),
  ],
];

test.each(cases)('axe finds nothing on the page, and nothing is cut off: %s', async (_, given) => {
  for (const [colorScheme, width] of [
    ['light', 1000],
    ['dark', 1000],
    ['light', 390],
  ] as const) {
    const page = await browser.newPage({ colorScheme, viewport: { width, height: 900 } });
    await page.setContent(reportHtml(regionReport(given)));
    await page.evaluate(axe.source);
    const { violations } = await page.evaluate<{ violations: Violation[] }>('axe.run(document)');
    const found = violations.map(({ id, nodes }) => [
      id,
      nodes.map(({ target, failureSummary }) => [target, failureSummary]),
    ]);
    expect([colorScheme, width, found]).toEqual([colorScheme, width, []]);
    expect(await page.evaluate<number>('document.documentElement.scrollWidth')).toBe(width);
    await page.close();
  }
});

test('the page is well formed: the browser reads exactly the elements that are written', async () => {
  const page = await browser.newPage();
  for (const [, given] of cases) {
    const html = reportHtml(regionReport(given));
    await page.setContent(html);
    const written = html.match(/<[a-z][a-z0-9]*[\s>]/gi)?.length ?? 0;
    // Nothing is moved, closed or added by a parser that mends.
    expect(await page.evaluate<number>('document.querySelectorAll("*").length')).toBe(written);
    const ids = await page.evaluate<string[]>(
      '[...document.querySelectorAll("[id]")].map((each) => each.id)',
    );
    expect(new Set(ids).size).toBe(ids.length);
    const broken = await page.evaluate<string[]>(
      '[...document.querySelectorAll("a[href^=\'#\']")].filter((each) => !document.querySelector(each.getAttribute("href"))).map(String)',
    );
    expect(broken).toEqual([]);
  }
  await page.close();
});
