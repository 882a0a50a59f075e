import bidiFactory from 'bidi-js';
import fc from 'fast-check';
import { expect, test } from 'vitest';
import { faces } from '../../../lib/brief/pdf/fonts.ts';
import { pdfOf } from '../../../lib/brief/pdf/pdf.ts';
import { isRightToLeft, runsOf } from '../../../lib/brief/pdf/runs.ts';
import { sheetOf } from '../../../lib/brief/sheet.ts';
import { briefFor, fullest } from './briefs.ts';
import { anyGiven } from './given.ts';
import { pagesOf, pdfText, placesOf } from './pdfText.ts';

/** ISO 216, and 8.5 by 11 inches of 72 points. */
const SIZES = { a4: '595.28 x 841.89', letter: '612 x 792' };
const paper = fc.constantFrom('a4' as const, 'letter' as const);
const system = fc.constantFrom('us' as const, 'metric' as const);

function withoutSpaces(text: string): string {
  return text.replace(/\s/g, '');
}

test('it is one page of the paper that was asked for, and all is on it, whatever people wrote and however much there is', async () => {
  await fc.assert(
    fc.asyncProperty(anyGiven, fc.boolean(), paper, system, async (given, isFull, asked, units) => {
      const brief = briefFor('u-19', given);
      const options = { paper: asked, system: units, compress: false };
      const pdf = await pdfOf(isFull ? fullest(brief) : brief, options);
      expect(pagesOf(pdf)).toEqual([SIZES[asked]]);
      const [width = 0, height = 0] = SIZES[asked].split(' x ').map(Number);
      const places = placesOf(pdf);
      expect(places.length).toBeGreaterThan(100);
      for (const { x, y } of places) {
        expect(x).toBeGreaterThan(30);
        expect(x).toBeLessThan(width - 30);
        expect(y).toBeGreaterThan(30);
        expect(y).toBeLessThan(height - 30);
      }
    }),
    { numRuns: 12 },
  );
});

test('it says all that its sheet says', async () => {
  const brief = briefFor('u-19', {
    site: { name: 'Harris & Sons <bakery>', address: 'Łódź, Αθήνα, Москва' },
  });
  const sheet = sheetOf(brief, 'us');
  const text = withoutSpaces(pdfText(await pdfOf(brief, { paper: 'a4', system: 'us', compress: false })));
  const said = [
    sheet.title,
    sheet.place,
    sheet.address ?? '',
    sheet.foot,
    ...sheet.facts.map(({ value }) => value),
    ...sheet.why.map(({ sentence }) => sentence),
    ...sheet.causes.map(({ words }) => words),
    ...sheet.checks.flatMap(({ task, telling }) => [task, telling]),
    ...sheet.parts.map(({ parts }) => parts),
    ...sheet.settings.map(({ now }) => now),
    ...sheet.record,
    ...sheet.cautions.map(({ value }) => value),
  ];
  for (const each of said) expect(text).toContain(withoutSpaces(each));
});

test('runs stand in the order of the bidirectional algorithm, each in a font that has its letters', async () => {
  const bidi = bidiFactory();
  const [first, ...others] = (await faces()).regular;
  if (!first) throw new Error('there is no font');
  const words = fc.constantFrom('שלום', 'عرب', '١٢', '12', '(a)', '(ב)', 'AV', '-', ',', '5%', ' ');
  fc.assert(
    fc.property(fc.array(words, { minLength: 1, maxLength: 9 }), (some) => {
      const line = some.join('');
      const rightToLeft = isRightToLeft(line);
      const runs = runsOf(line, [first, ...others], rightToLeft);
      const drawn = runs.map(({ text, isRightToLeft: turned }) =>
        turned ? [...text].reverse().join('') : text,
      );
      const levels = bidi.getEmbeddingLevels(line, rightToLeft ? 'rtl' : 'ltr');
      // Trailing spaces have the level of the paragraph (L1), which moves nothing that is seen.
      const expected = bidi.getReorderedString(line, levels);
      expect(drawn.join('').trim()).toBe(expected.trim());
      for (const { text, face } of runs) {
        for (const letter of text)
          expect(face.font.hasGlyphForCodePoint(letter.codePointAt(0) ?? 0)).toBe(true);
      }
    }),
  );
  // Unicode Standard Annex 9, section 3.4, the first example: "car means CAR." with capitals for Hebrew.
  const drawn = runsOf('car means רכב.', [first, ...others], false).map(({ text, isRightToLeft: turned }) =>
    turned ? [...text].reverse().join('') : text,
  );
  expect(drawn.join('')).toBe('car means בכר.');
});
