import { parse } from 'csv-parse/sync';
import { expect, it } from 'vitest';
import { SALT_ACCOUNT_COLUMNS } from '../../lib/salt/account/columns.ts';
import { dictionaryCsv, dictionaryMarkdown } from '../../lib/salt/account/dictionary.ts';

it('is written down as the code says it; `npx vitest run tests/docs/dictionary.test.ts --update` writes it anew', async () => {
  await expect(dictionaryMarkdown()).toMatchFileSnapshot('../../docs/dictionary.md');
});

it('says of each column its unit, its meaning and how it is worked out, once', () => {
  const entries = parse<Record<string, string>>(dictionaryCsv(), { columns: true });
  expect(entries.map(({ column }) => column)).toEqual([
    ...SALT_ACCOUNT_COLUMNS.map(({ name }) => name),
    'suppressed',
  ]);
  expect(new Set(entries.map(({ column }) => column)).size).toBe(entries.length);
  for (const entry of entries) {
    for (const name of ['type', 'unit', 'meaning', 'how'])
      expect([entry.column, entry[name]]).not.toContain('');
    // A name tells the unit, as the rest of the contract's files do.
    const [, suffix] = /_(lb|gal|share)$/.exec(entry.column ?? '') ?? [];
    const units: Record<string, string> = { lb: 'lb', gal: 'US gal', share: 'share of 1' };
    const isRatio = /_per_lb/.test(entry.column ?? '') || entry.column === 'drawn_share';
    if (suffix && !isRatio) expect([entry.column, entry.unit]).toEqual([entry.column, units[suffix]]);
  }
});
