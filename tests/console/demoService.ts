import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { Browser, BrowserContext, BrowserContextOptions, Page } from 'playwright-core';
import { DEMO_COMPANY_ID, openDemo } from '../../infra/local/demo/demo.ts';
import { type Service, startService } from '../../infra/local/service.ts';
import { mailPeer, type Peer } from '../lib/channels/peers.ts';

const quiet = { debug: () => {}, info: () => {}, warn: () => {}, error: console.error };

/** What goes wrong in the fleet hangs on the day on which it begins: always the same. */
const FROM = Date.UTC(2026, 10, 26, 4);

/** The service with the demonstration's fleet and the built console, and a mail server that it sends to. */
export interface DemoService {
  readonly service: Service;
  readonly companyId: string;
  readonly mail: Peer;
  readonly dataDir: string;
  stop(): Promise<void>;
}

/** @param units of the fleet; of the first 24 one has a meter that has stalled */
export async function startDemo(units: number): Promise<DemoService> {
  const dataDir = await mkdtemp(join(tmpdir(), 'brinebell-console-'));
  const mail = await mailPeer();
  const demo = await openDemo({ dataDir, units, from: FROM });
  const service = await startService({
    ...{ dataDir, host: '127.0.0.1', port: 0, mqttPort: 0, env: {}, log: quiet },
    clock: demo.clock,
    signIn: { demoCompanyId: DEMO_COMPANY_ID },
    consoleDir: new URL('../../dist/console', import.meta.url).pathname,
    smtpUrl: `smtp://127.0.0.1:${mail.port}`,
    mailFrom: 'brinebell@larkwater.example',
  });
  const running = await demo.begin(service, {
    onProgress: () => {},
    signal: new AbortController().signal,
  });
  return {
    service,
    companyId: DEMO_COMPANY_ID,
    mail,
    dataDir,
    stop: async () => {
      await running.stop();
      await service.stop();
      await mail.close();
      await rm(dataDir, { recursive: true });
    },
  };
}

/** A browser window of somebody of the demonstration, signed in. */
export async function windowOf(
  browser: Browser,
  url: string,
  name: string,
  options: BrowserContextOptions = {},
): Promise<{ context: BrowserContext; page: Page }> {
  const context = await browser.newContext({ locale: 'en-US', timezoneId: 'America/New_York', ...options });
  const page = await context.newPage();
  await page.goto(url);
  await page.getByRole('button', { name: new RegExp(name) }).click();
  await page.locator('main#page').waitFor();
  await settled(page);
  return { context, page };
}

/** Opens a page of a console in which somebody has signed in, without loading it all again, and waits until it stands. */
export async function goTo(page: Page, path: string): Promise<void> {
  await page.evaluate(
    `history.pushState(null, '', ${JSON.stringify(path)}); dispatchEvent(new PopStateEvent('popstate'))`,
  );
  await page.waitForURL((url) => url.pathname === path);
  await settled(page);
}

/** A page that is about to be read looks settled for a moment. */
const SETTLED_TIMES = 4;
const SETTLING_MS = 30_000;
const POLL_MS = 50;
/** What was asked for last has been drawn. */
const DRAWN = 'new Promise((done) => requestAnimationFrame(() => requestAnimationFrame(done)))';

/** Waits until a page shows its heading, and nothing of it is still being read. */
export async function settled(page: Page): Promise<void> {
  const heading = page.getByRole('main').getByRole('heading', { level: 1 }).first();
  const busy = page.locator('[role=progressbar], [aria-busy=true]');
  await heading.waitFor();
  // Asked from here: a function that the page is to call again and again its policy lets nobody evaluate.
  const latest = Date.now() + SETTLING_MS;
  for (let times = 0; times < SETTLED_TIMES; ) {
    if (Date.now() > latest) throw new Error(`${page.url()} is still being read after ${SETTLING_MS} ms`);
    await page.evaluate(DRAWN);
    times = (await busy.count()) === 0 && (await heading.isVisible()) ? times + 1 : 0;
    await new Promise((resolve) => setTimeout(resolve, POLL_MS));
  }
}
