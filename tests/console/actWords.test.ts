import { beforeAll, expect, test } from 'vitest';
import * as z from 'zod';
import { actWords } from '../../console/care/audit/actWords.ts';
import { CAUSES } from '../../shared/alerts.ts';
import { service } from '../functions/api/service.ts';

const documentSchema = z.object({ paths: z.record(z.string(), z.record(z.string(), z.unknown())) });
/** What is done by a link in a message stands in no company's audit trail. */
const NOT_OF_A_COMPANY = /^\/answer/;
/** What takes everything away is written down too, though it changes nothing. */
const TAKES_ALL = /^\/v1\/backup\//;

let acts: readonly string[] = [];

beforeAll(async () => {
  const { paths } = documentSchema.parse(await (await service().ask('GET', '/openapi.json')).json());
  acts = Object.entries(paths)
    .filter(([path]) => !NOT_OF_A_COMPANY.test(path))
    .flatMap(([path, methods]) =>
      Object.keys(methods)
        .filter((method) => method !== 'get' || TAKES_ALL.test(path))
        .map(
          (method) => `${method.toUpperCase()} ${path.replace('/v1/', '').replaceAll(/\{\w+\}/g, 'thing')}`,
        ),
    );
});

test('every act that the API knows is told in words, each in its own', () => {
  expect(acts.length).toBeGreaterThan(15);
  expect(acts.filter((what) => actWords(what) === what)).toEqual([]);
  expect(new Set(acts.map(actWords)).size).toBe(acts.length);
});

test('an alert is named by its kind, whatever its id goes on with', () => {
  for (const kind of Object.keys(CAUSES)) {
    const words = actWords(`PUT units/u-1/alerts/${kind}-1791349308000/acknowledgement`);
    expect(words).toMatch(/^Acknowledged: [A-Z]/);
  }
});

test('what is no act of ours, or no address, is told as it stands', () => {
  expect(actWords('PATCH moon')).toBe('PATCH moon');
  expect(actWords('PUT people/%E0%A4%A')).toContain('%E0%A4%A');
});
