import fc from 'fast-check';
import { expect, test } from 'vitest';
import { htmlOf } from '../../../lib/brief/html.ts';
import { sheetOf } from '../../../lib/brief/sheet.ts';
import { textOf } from '../../../lib/brief/text.ts';
import { briefFor } from './briefs.ts';
import { anyGiven } from './given.ts';

const PLAIN = {
  site: { name: 'Mill Lane 12', address: 'Alder' },
  companyName: 'Fenwick',
  technician: 'Tomas',
  reason: 'A look',
};

/** Everything between angle brackets, in its order. */
function tagsOf(html: string): string[] {
  return html.match(/<[^>]*>/g) ?? [];
}

test('what people wrote adds no markup, starts nothing and turns nothing round', () => {
  const plain = briefFor('u-19', PLAIN);
  const tags = { us: tagsOf(htmlOf(plain, 'us')), metric: tagsOf(htmlOf(plain, 'metric')) };
  fc.assert(
    fc.property(anyGiven, fc.constantFrom('us' as const, 'metric' as const), (given, units) => {
      const brief = briefFor('u-19', given);
      const html = htmlOf(brief, units);
      expect(tagsOf(html)).toEqual(tags[units]);
      expect(html).not.toMatch(/[^\P{C}\n]/u);
      // Of plain text too no line begins with what people wrote as if it were a heading of ours.
      const lines = textOf(sheetOf(brief, units), 'https://c.example/units/u-19/brief').split('\n');
      expect(lines.filter((line) => line === 'WHY')).toHaveLength(1);
    }),
    { numRuns: 60 },
  );
});

test('a page loads nothing, runs nothing and says what it is about', () => {
  const html = htmlOf(briefFor('u-19', PLAIN), 'us');
  expect(html).not.toMatch(
    /<script|<link|<img|<iframe|<form|\ssrc=|\shref=|\son\w+=|url\(|@import|javascript:/i,
  );
  for (const words of [
    'Mill Lane 12',
    'The meter has registered nothing',
    'turbine meter',
    'bypass',
    'Local codes',
  ]) {
    expect(html).toContain(words);
  }
});
