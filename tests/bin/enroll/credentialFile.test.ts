import {
  chmodSync,
  mkdirSync,
  readFileSync,
  statSync,
  symlinkSync,
  truncateSync,
  writeFileSync,
} from 'node:fs';
import { join } from 'node:path';
import fc from 'fast-check';
import { afterAll, expect, test } from 'vitest';
import { CredentialFile } from '../../../bin/enroll/credentialFile.ts';
import { rowOf } from '../../../bin/enroll/credentialRow.ts';
import { scratch } from '../../support/command.ts';

const folder = scratch();
afterAll(folder.remove);
let names = 0;
const newPath = () => join(folder.path, `${names++}.csv`);

function row(unitId: string, password: string) {
  return rowOf({
    ...{ companyId: 'acme', unitId, service: 'http://x', at: new Date(0) },
    credential: { kind: 'password', username: `acme/${unitId}`, password, topic: `units/${unitId}/events` },
  });
}

test('rows are there again, the later of one unit, wherever a kill has cut the file off', async () => {
  const added = fc.array(
    fc.record({
      unitId: fc.constantFrom('u-1', 'u.2', 'u_3'),
      password: fc.string({ unit: fc.constantFrom('a', '-', '_', ',', '"', '=', 'é'), maxLength: 6 }),
    }),
    { maxLength: 6 },
  );
  await fc.assert(
    fc.asyncProperty(added, fc.double({ min: 0, max: 1, noNaN: true }), async (rows, share) => {
      const path = newPath();
      const file = await CredentialFile.open(path);
      const whole: { upTo: number; unitId: string; password: string }[] = [];
      for (const { unitId, password } of rows) {
        await file.add(row(unitId, password));
        whole.push({ upTo: statSync(path).size, unitId, password });
      }
      await file.close();
      const cut = Math.round(share * statSync(path).size);
      truncateSync(path, cut);
      const again = await CredentialFile.open(path);
      await again.add(row('u-9', 'after'));
      await again.close();
      const kept = whole.filter(({ upTo }) => upTo <= cut);
      const expected = new Map(kept.map(({ unitId, password }) => [unitId, row(unitId, password)]));
      expect(await CredentialFile.rows(path)).toEqual(expected.set('u-9', row('u-9', 'after')));
    }),
    { numRuns: 100 },
  );
});

test('rows that come at once are all there, and one a unit once it is written anew', async () => {
  const path = newPath();
  const file = await CredentialFile.open(path);
  const ids = Array.from({ length: 100 }, (_, index) => `u-${index}`);
  await Promise.all(ids.map((unitId) => file.add(row(unitId, 'first'))));
  await Promise.all(ids.map((unitId) => file.add(row(unitId, 'second'))));
  expect(readFileSync(path, 'utf8').split('\n')).toHaveLength(202);
  file.drop('u-7');
  await file.compact();
  await file.close();
  expect(statSync(path).mode & 0o777).toBe(0o600);
  const rows = await CredentialFile.rows(path);
  expect([...rows.keys()].sort()).toEqual(ids.filter((unitId) => unitId !== 'u-7').sort());
  expect(new Set([...rows.values()].map(({ password }) => password))).toEqual(new Set(['second']));
});

test('what is not ours is left as it is', async () => {
  const other = folder.file('other.csv', 'unit_id,secret\nu-1,x\n');
  chmodSync(other, 0o600);
  const open = folder.file('open.csv', '');
  chmodSync(open, 0o644);
  const target = folder.file('target.csv', 'somebody’s');
  const link = newPath();
  symlinkSync(target, link);
  const directory = newPath();
  mkdirSync(directory);
  const beyond = join(folder.path, 'none', 'x.csv');
  for (const path of [other, open, link, directory, beyond]) {
    await expect(CredentialFile.open(path), path).rejects.toMatchObject({ code: 'output-unusable' });
  }
  expect(readFileSync(other, 'utf8')).toBe('unit_id,secret\nu-1,x\n');
  expect(readFileSync(target, 'utf8')).toBe('somebody’s');
  writeFileSync(open, '');
  chmodSync(open, 0o600);
  await (await CredentialFile.open(open)).close();
});
