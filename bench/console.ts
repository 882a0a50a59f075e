/**
 * The list of units that need attention in a real browser: what is loaded before it shows, and how long the browser is
 * ever busy at a stretch while it is read, scrolled, searched and filtered. The rows are invented, the service, its table
 * and its console are real. Putting 100,000 rows into the table takes some minutes. Needs Chromium, and a built console.
 *
 * usage: node bench/run.js console [--units 100000]
 */
import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join, resolve } from 'node:path';
import { parseArgs } from 'node:util';
import type { Page } from 'playwright-core';
import { Progress } from '../bin/replay/progress.ts';
import { atOnce } from '../functions/atOnce.ts';
import { startService } from '../infra/local/service.ts';
import { startBrowser } from '../tests/support/browser.ts';
import { attentionRow } from './comparisons/api/attentionRow.ts';

const { values } = parseArgs({ options: { units: { type: 'string', default: '100000' } } });
const UNITS = Number(values.units);
const COMPANY = 'wide-water';
const PERSON = {
  personId: 'desk-1',
  mail: 'ines@wide.example',
  name: 'Ines Varga',
  role: 'dispatcher',
} as const;
const AT_ONCE = 64;
/** A task of more than this is long by the Long Tasks API, milliseconds. */
const LONG_MS = 50;

/** Notes how long each long task takes, in the page. */
const OBSERVE = `
  globalThis.longTasks = [];
  new PerformanceObserver((list) => {
    for (const { duration } of list.getEntries()) globalThis.longTasks.push(duration);
  }).observe({ type: 'longtask', buffered: true });
`;
const RESOURCES =
  "performance.getEntriesByType('resource').map(({ name, encodedBodySize }) => ({ name, bytes: encodedBodySize }))";

const dataDir = await mkdtemp(join(tmpdir(), 'brinebell-bench-'));
const quiet = { debug: () => {}, info: () => {}, warn: () => {}, error: console.error };
const service = await startService({
  ...{ dataDir, host: '127.0.0.1', port: 0, mqttPort: 0, env: {}, log: quiet },
  signIn: { demoCompanyId: COMPANY },
  consoleDir: resolve('dist/console'),
});
const browser = await startBrowser();
try {
  await fill();
  const page = await browser.newPage({ viewport: { width: 1280, height: 800 } });
  await page.addInitScript(OBSERVE);
  await page.goto(service.url);
  await page.getByRole('button', { name: new RegExp(PERSON.name) }).click();
  await tell('first rows', page, () =>
    page
      .getByRole('link', { name: /Mill Lane/ })
      .first()
      .waitFor(),
  );
  await weigh(page);
  const all = UNITS.toLocaleString('en-US');
  await tell('all rows read', page, () => page.getByText(`${all} units`).waitFor({ timeout: 600_000 }));
  await tell('scrolled', page, async () => {
    for (let step = 0; step < 40; step++) {
      await page.mouse.wheel(0, 3000);
      await page.waitForTimeout(30);
    }
    await page.keyboard.press('End');
    await page.waitForTimeout(300);
    await page.keyboard.press('Home');
    await page.waitForTimeout(300);
  });
  await tell('searched', page, async () => {
    await page.getByLabel('Search').pressSequentially('mill lane 77', { delay: 60 });
    await page.waitForTimeout(800);
    for (let key = 0; key < 12; key++) await page.keyboard.press('Backspace');
    await page.waitForTimeout(800);
  });
  await tell('filtered', page, async () => {
    await page.getByLabel('Region').selectOption({ index: 3 });
    await page.waitForTimeout(500);
    await page.getByLabel('Severity').selectOption({ index: 1 });
    await page.waitForTimeout(500);
    await page.getByLabel('Region').selectOption({ index: 0 });
    await page.waitForTimeout(800);
  });
} finally {
  await browser.close();
  await service.stop();
  await rm(dataDir, { recursive: true });
}

/** Puts the company, somebody of it, and the rows into the table. */
async function fill() {
  const { store } = service.ports;
  await store.putCompany({ companyId: COMPANY, name: 'Wide Water', channels: [], rules: {} });
  await store.putPerson(COMPANY, { ...PERSON, units: 'us' });
  const progress = new Progress();
  progress.begin('Rows', UNITS);
  let done = 0;
  await atOnce(
    AT_ONCE,
    Array.from({ length: UNITS }, (_, index) => index),
    async (index) => {
      const row = attentionRow(index);
      await store.putAttention({ companyId: COMPANY, unitId: row.unitId }, 1, row);
      done += 1;
      if (done % 500 === 0) progress.reach(done);
    },
  );
  progress.end();
}

/** Does something, and tells how long it took and for how long the browser was busy at a stretch. */
async function tell(what: string, page: Page, work: () => Promise<unknown>) {
  await page.evaluate('globalThis.longTasks = []');
  const before = performance.now();
  await work();
  const seconds = (performance.now() - before) / 1000;
  await page.waitForTimeout(100);
  const tasks = await page.evaluate<number[]>('globalThis.longTasks');
  const longest = tasks.length === 0 ? `none over ${LONG_MS} ms` : `${Math.round(Math.max(...tasks))} ms`;
  console.log(
    `${what.padEnd(14)} ${seconds.toFixed(1).padStart(6)} s; longest task: ${longest} (${tasks.length} long)`,
  );
}

/** What of script and style had come over the wire when the list showed. */
async function weigh(page: Page) {
  const parts = await page.evaluate<{ name: string; bytes: number }[]>(RESOURCES);
  const kB = (extension: string) =>
    (
      parts.filter(({ name }) => name.endsWith(extension)).reduce((sum, { bytes }) => sum + bytes, 0) / 1000
    ).toFixed(0);
  console.log(
    `First load: ${kB('.js')} kB of script and ${kB('.css')} kB of style, compressed (script: at most 250)`,
  );
}
