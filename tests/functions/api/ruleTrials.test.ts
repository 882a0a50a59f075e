import { expect, it } from 'vitest';
import * as z from 'zod';
import { problemSchema } from '../../../functions/api/problemSchema.ts';
import { lines, records } from '../../support/smallFleet.ts';
import { keyOf, live, service } from './service.ts';

const looked = z.looseObject({ state: z.string() });
const COMPANY = 'fenwick-water';

/** A company whose archive is read once `open` is called. */
async function withFleet() {
  let open = () => {};
  const opened = new Promise<void>((resolve) => {
    open = resolve;
  });
  const made = service(undefined, undefined, async function* () {
    await opened;
    yield { unitId: 'nobodys', lines: [] };
  });
  const key = await keyOf(made, COMPANY);
  await live(made.store, records, lines);
  const ask = (method: string, path: string, body?: unknown) =>
    made.ask(method, path, { key, ...(body !== undefined && { body }) });
  return { ...made, ask, open };
}

it('tries rules one trial at a time, tells how far it is, and shows the page once it is done', async () => {
  const { ask, store, open } = await withFleet();
  const before = await store.company(COMPANY);
  const started = await ask('POST', '/v1/rule-trials', { rules: { overrun: { raise: 0.97 } } });
  expect(started.status).toBe(202);
  const { trialId } = z.object({ trialId: z.string() }).parse(await started.json());
  const refused = await ask('POST', '/v1/rule-trials', { rules: {} });
  expect([refused.status, refused.headers.get('retry-after')]).toEqual([429, '60']);
  expect(problemSchema.parse(await refused.json()).type).toBe('/problems/at-work-already');
  const view = async () => looked.parse(await (await ask('GET', `/v1/rule-trials/${trialId}`)).json());
  expect(await view()).toMatchObject({ trialId, state: 'running', summary: null });
  expect((await ask('GET', `/v1/rule-trials/${trialId}/page`)).status).toBe(404);
  open();
  for (let looks = 0; (await view()).state === 'running' && looks < 1000; looks += 1)
    await new Promise((resolve) => setTimeout(resolve, 2));
  expect(await view()).toMatchObject({
    ...{ state: 'done', units: 3, rules: { overrun: { raise: 0.97 } }, failure: null },
    parts: { done: 1, failed: 0, of: 1 },
    summary: { units: 3, rules: [{ rule: 'overrun.raise', before: 0.95, after: 0.97 }] },
  });
  const page = await ask('GET', `/v1/rule-trials/${trialId}/page`);
  expect(page.headers.get('content-security-policy')).toContain("default-src 'none'");
  expect(await page.text()).toContain('overrun.raise');
  // Nothing is rolled out by trying it.
  expect(await store.company(COMPANY)).toEqual(before);
});

it('refuses rules that are none, and says which', async () => {
  const { ask } = await withFleet();
  const response = await ask('POST', '/v1/rule-trials', { rules: { overrun: { raise: 2 } } });
  expect(response.status).toBe(400);
  expect(problemSchema.parse(await response.json()).errors).toMatchObject([
    { pointer: '#/rules/overrun/raise' },
  ]);
  expect((await ask('POST', '/v1/rule-trials', {})).status).toBe(400);
  expect((await ask('GET', '/v1/rule-trials/1')).status).toBe(404);
  expect((await ask('GET', '/v1/rule-trials/nonsense/page')).status).toBe(404);
});
