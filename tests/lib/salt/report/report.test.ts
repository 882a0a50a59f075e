import { parse } from 'csv-parse/sync';
import fc from 'fast-check';
import { expect, test } from 'vitest';
import { faces } from '../../../../lib/brief/pdf/fonts.ts';
import { accountsCsv } from '../../../../lib/salt/account/accountsCsv.ts';
import { cellsOf, type Withheld } from '../../../../lib/salt/account/accountsFile.ts';
import { METHOD } from '../../../../lib/salt/account/method.ts';
import type { Block, RegionReport } from '../../../../lib/salt/report/content.ts';
import type { ReportGiven } from '../../../../lib/salt/report/given.ts';
import { reportHtml } from '../../../../lib/salt/report/html.ts';
import { whatIsMissing } from '../../../../lib/salt/report/missing.ts';
import { drawable } from '../../../../lib/salt/report/pdf/drawable.ts';
import { reportPdf } from '../../../../lib/salt/report/pdf/pdf.ts';
import { quantitiesIn, roundedOf } from '../../../../lib/salt/report/quantity.ts';
import { regionReport } from '../../../../lib/salt/report/regionReport.ts';
import { CHLORIDE_CRITERIA } from '../../../../lib/softening/chloride.ts';
import { EFFICIENCY_RULES } from '../../../../lib/softening/efficiency.ts';
import { pagesOf, pdfText, placesOf } from '../../brief/pdfText.ts';
import { AS_OF, accountOf, deliveriesOf, givenOf, MONTH, REGION, yearOf } from './accounts.ts';

/** A text without spaces and markup: lines are broken anywhere. */
function bare(text: string): string {
  return text.replaceAll(/\s/g, '');
}

function bareHtml(html: string): string {
  const text = html.replace(/<style>[\s\S]*?<\/style>/, '').replaceAll(/<[^>]*>/g, ' ');
  return bare(
    text.replaceAll('&lt;', '<').replaceAll('&gt;', '>').replaceAll('&quot;', '"').replaceAll('&amp;', '&'),
  );
}

/** Everything that a report says, one by one. */
function saidOf({ title, region, facts, sections }: RegionReport): string[] {
  const of = (block: Block): string[] => {
    switch (block.kind) {
      case 'text':
        return [block.text];
      case 'figures':
        return block.figures.flatMap(({ label, value, range, note }) => [label, value, range ?? '', note]);
      case 'drawing':
        return block.drawing.marks.flatMap((mark) => (mark.kind === 'text' ? [mark.text] : []));
      case 'table':
        return [block.caption, ...block.columns.map(({ head }) => head), ...block.rows.flat()];
      case 'steps':
        return block.steps.flatMap(({ title: name, formula = '', text, source = '' }) =>
          [name, formula, text, source].map(drawable),
        );
    }
  };
  return [
    title,
    region,
    ...facts,
    ...sections.flatMap((section) => [section.title, ...section.blocks.flatMap(of)]),
  ];
}

const pdfOf = (given: ReportGiven, paper: 'a4' | 'letter' = 'letter') =>
  reportPdf(regionReport(given), { paper, compress: false });

test('page and PDF say all that the report says, the PDF within its margins, whatever its size', async () => {
  const full = { method: METHOD, deliveries: deliveriesOf(80, 50) };
  const cases: [ReportGiven, 'a4' | 'letter', string][] = [
    [givenOf(214, full), 'letter', '612 x 792'],
    [givenOf(100_000, { ...full, system: 'metric' }), 'a4', '595.28 x 841.89'],
  ];
  for (const [given, paper, size] of cases) {
    const report = regionReport(given);
    const pdf = await pdfOf(given, paper);
    const texts = { html: bareHtml(reportHtml(report)).replaceAll('√', 'rootof'), pdf: bare(pdfText(pdf)) };
    for (const each of saidOf(report)) {
      expect(texts.html).toContain(bare(each));
      expect(texts.pdf).toContain(bare(each));
    }
    const pages = pagesOf(pdf);
    expect(new Set(pages)).toEqual(new Set([size]));
    expect(texts.pdf).toContain(`page${pages.length}of${pages.length}`);
    const [width = 0, height = 0] = size.split(' x ').map(Number);
    for (const { x, y } of placesOf(pdf)) {
      expect(x).toBeGreaterThan(40);
      expect(x).toBeLessThan(width - 40);
      expect(y).toBeGreaterThan(20);
      expect(y).toBeLessThan(height - 40);
    }
  }
});

test('figures are those of the rows of accounts.csv, to the digits that are told', () => {
  const given = givenOf(214);
  const csv: Record<string, string>[] = parse(
    accountsCsv(given.accounts.map(({ account }) => cellsOf(account))),
    {
      columns: true,
    },
  );
  const row = csv.find(({ month }) => month === MONTH) ?? {};
  const [headline] = regionReport(given).sections;
  const figures = headline?.blocks.flatMap((block) => (block.kind === 'figures' ? block.figures : [])) ?? [];
  const told = Object.fromEntries(figures.map(({ label, value, range }) => [label, `${value} ${range}`]));
  const wanted = (name: string, suffix: string, unit: string) => {
    const [value, low, high] = ['', '_low', '_high'].map((bound) => Number(row[`${name}${bound}${suffix}`]));
    const estimate = { value: value ?? 0, low: low ?? 0, high: high ?? 0 };
    const words = roundedOf(estimate, { unit, factor: 1 });
    return `${words.value}\u00a0${unit} 80 %: ${words.range}\u00a0${unit}`;
  };
  expect(told).toEqual({
    'Salt used': wanted('salt_used', '_lb', 'lb'),
    'Chloride to the drain': wanted('chloride', '_lb', 'lb'),
    'Water treated': wanted('water_treated', '_gal', 'gal'),
    'Salt efficiency': wanted('grains_per_lb', '', 'grains/lb'),
  });
});

test('a pound is 0.45359237 kg, and 4,000 grains per lb are 571 g/kg (7,000 grains to the pound, exact)', () => {
  const { mass, efficiency, volume } = quantitiesIn('metric');
  const exactly = (value: number) => ({ value, low: value, high: value });
  expect(roundedOf(exactly(1_000), mass).value).toBe('454');
  expect(roundedOf(exactly(4_000), efficiency).value).toBe('571');
  // NIST SP 811, appendix B: 3.785 412 E-03 m3 to the US gallon.
  expect(roundedOf(exactly(1_000_000), volume).value).toBe('3,790');
});

test('each published figure stands with its source and how it is known, and with the caution', () => {
  const text = bareHtml(reportHtml(regionReport(givenOf(20))));
  for (const { source, basis } of [...EFFICIENCY_RULES, ...CHLORIDE_CRITERIA]) {
    expect(text).toContain(bare(source));
    expect(text).toContain(bare(basis));
  }
  expect(text).toContain(bare('for the water body or the tap, not for a drain'));
  expect(text).toContain(bare('Local codes and the water authority prevail'));
});

test('every sign of the method can be drawn on paper', async () => {
  const { regular } = await faces();
  const signs = new Set(
    METHOD.flatMap(({ title, formula = '', text, source = '' }) => [
      ...drawable(title + formula + text + source),
    ]),
  );
  expect(
    [...signs].filter(
      (sign) => !regular.some(({ font }) => font.hasGlyphForCodePoint(sign.codePointAt(0) ?? 0)),
    ),
  ).toEqual([]);
});

test('what is withheld is not in the shared form, and is in the company’s own', async () => {
  const withheld: Withheld = {
    measured: 'one-unit',
    imputed: 'one-unit',
    delivered: 'few-units',
    'hard-water': 'few-units',
    'as-set': 'few-units',
    'wasted-leak': 'one-unit',
    'regeneration-water': 'few-units',
  };
  const account = accountOf(40, {
    hardGallons: 77_654,
    deliveredSaltLb: 61_234,
    asSet: { judged: 40, nsf44: 37, california2002: 3 },
  });
  const given = (isShared: boolean) =>
    givenOf(40, { isShared, accounts: [{ account, withheld }], deliveries: deliveriesOf(30) });
  const secrets = ['77,700', '61,200', '37 of 40', 'unit-0001', '660 lb', '910 lb'];
  const own = bareHtml(reportHtml(regionReport(given(false))));
  const shared = {
    html: bareHtml(reportHtml(regionReport(given(true)))),
    pdf: bare(pdfText(await pdfOf(given(true)))),
  };
  for (const secret of secrets) {
    expect(own).toContain(bare(secret));
    expect(shared.html).not.toContain(bare(secret));
    expect(shared.pdf).not.toContain(bare(secret));
  }
  expect(shared.html).toContain('withheld');
  expect(shared.html).toContain(bare('1,650 lb'));
});

test('of a month that is withheld as a whole no figure is told, nor in the report of a later month', () => {
  const hidden = accountOf(3, { saltLb: { value: 98_765, low: 97_000, high: 99_000 } });
  const isIn = (given: ReportGiven) => bareHtml(reportHtml(regionReport(given))).includes('98,800');
  const accounts = [
    {
      account: { ...hidden, saltLb: { ...hidden.saltLb, value: 98_800 } },
      withheld: { all: 'few-units' } as const,
    },
  ];
  expect(isIn(givenOf(3, { accounts }))).toBe(true);
  expect(isIn(givenOf(3, { accounts, isShared: true }))).toBe(false);
  const later = [
    { account: accountOf(30), withheld: {} },
    ...accounts.map(({ account, ...rest }) => ({ ...rest, account: { ...account, month: '2026-02' } })),
  ];
  expect(isIn(givenOf(3, { accounts: later }))).toBe(true);
  expect(isIn(givenOf(3, { accounts: later, isShared: true }))).toBe(false);
});

test('no house is said to need no salt while nothing is known of its tank', () => {
  const said = (dated: number, undated: number, name?: string) =>
    bareHtml(
      reportHtml(
        regionReport(
          givenOf(20, { deliveries: { ...deliveriesOf(dated, undated), siteNameOf: () => name ?? null } }),
        ),
      ),
    );
  const alone = said(0, 90);
  expect(alone).not.toContain(bare('No house needs salt'));
  expect(alone).toContain(bare('Of the houses whose tanks are known, none needs salt'));
  // 18 times 7.2 + 8.2 + 9.2 + 10.2 + 11.2 lb are 828 lb: 20.7 bags of 40 lb.
  expect(alone).toContain(bare('90 houses without a date use 830 lb (about 21 bags) a week'));
  expect(alone).toContain('unit-without-1');
  expect(said(3, 0)).not.toContain(bare('without a date'));
  const named = said(3, 2, '4 Mill Road');
  expect(named).toContain(bare('4 Mill Road'));
  expect(named).not.toContain('unit-0001');
});

test('parts and their shares do not contradict their sum, and what nobody recorded is told to be so', () => {
  const wastedLb = {
    ...{ leak: 5.6, manual: 0.03, 'calendar-limit': 0, repeated: 8.7, 'capacity-too-low': 0 },
    ...{ 'hardness-too-high': 0, reserve: 37.1, dose: 57.2 },
  };
  const saltLb = { value: 640, low: 560, high: 720 };
  const parts = { measuredSaltLb: 0.584 * 640, inferredSaltLb: 0.415 * 640, imputedSaltLb: 0.001 * 640 };
  const account = accountOf(15, { saltLb, wastedLb, ...parts, deliveredSaltLb: 0 });
  const { sections } = regionReport(givenOf(15, { accounts: [{ account, withheld: {} }] }));
  const rowsOf = (id: string) =>
    sections
      .filter((section) => section.id === id)
      .flatMap(({ blocks }) => blocks.flatMap((block) => (block.kind === 'table' ? block.rows : [])))
      .map((row) => row.map((cell) => cell.replaceAll('\u00a0', ' ')));
  expect(rowsOf('wasted').map((row) => row.slice(2))).toEqual([
    ...[
      ['57 lb', '9 %'],
      ['37 lb', '6 %'],
      ['8.7 lb', '1 %'],
      ['5.6 lb', '1 %'],
      ['<0.1 lb', '<1 %'],
    ],
    ...[
      ['0 lb', '0 %'],
      ['0 lb', '0 %'],
      ['0 lb', '0 %'],
      ['110 lb', '17 %'],
    ],
  ]);
  expect(rowsOf('known').map((row) => row.slice(2))).toEqual([
    ...[
      ['370 lb', '58 %'],
      ['270 lb', '42 %'],
      ['0.6 lb', '<1 %'],
      ['640 lb', '100 %'],
    ],
  ]);
  expect(rowsOf('flows').at(-2)?.[1]).toBe('none recorded');
});

test('a month that goes on, one begun within, and one without a report are told as such', () => {
  const textOf = (over: Parameters<typeof accountOf>[1]) =>
    bareHtml(
      reportHtml(regionReport(givenOf(30, { accounts: [{ account: accountOf(30, over), withheld: {} }] }))),
    );
  expect(textOf({ asOf: Date.UTC(2026, 3, 1, 11, 59) })).toContain(bare('is not over yet'));
  expect(textOf({ asOf: Date.UTC(2026, 3, 1, 12) })).not.toContain(bare('is not over yet'));
  expect(textOf({ daysExpected: 400 })).toContain(bare('for a part of March 2026 only'));
  expect(textOf({ daysCounted: 0 })).toContain(bare('Nothing was reported in March 2026'));
  expect(textOf({})).toContain(bare('Facts known until 2026-04-08 05:30 UTC'));
});

test('a name adds no markup, and a page loads and runs nothing', () => {
  const tagsOf = (html: string) =>
    html.match(/<[^>]*>/g)?.map((tag) => tag.replace(/aria-label="[^"]*"/, ''));
  const named = (region: string, company: string) =>
    reportHtml(regionReport(givenOf(30, { region, company, accounts: yearOf(30, { region }) })));
  const plain = named(REGION, 'Larkwater');
  expect(plain).not.toMatch(
    /<script|<link|<img|<iframe|<form|\ssrc=|href="[^#]|\son\w+=|url\(|@import|javascript:/i,
  );
  const name = fc.oneof(
    fc.string({ unit: 'binary', minLength: 1, maxLength: 200 }),
    fc.constantFrom(
      '"><img src=x onerror=alert(1)>',
      '</title></style>',
      '\u202eevil',
      'שדרות <i>12</i>',
      'W'.repeat(300),
    ),
  );
  fc.assert(
    fc.property(name, name, (region, company) => {
      const html = named(region, company);
      expect(tagsOf(html)).toEqual(tagsOf(plain));
      expect(html).not.toMatch(/NaN|undefined|Infinity/);
    }),
    { numRuns: 20 },
  );
});

test('why there is nothing to report', () => {
  const accounts = ['2026-01', '2026-03'].map((month) => accountOf(3, { month }));
  const missing = (region: string, month: string) => whatIsMissing(accounts, { region, month }, AS_OF);
  expect(missing(REGION, '2026-03')).toBeUndefined();
  expect(missing('nowhere', '2026-03')).toEqual({ why: 'region-unknown', regions: [REGION] });
  expect(missing(REGION, '2026-02')).toEqual({ why: 'month-without-data', months: ['2026-01', '2026-03'] });
  expect(missing(REGION, '2026-04')).toMatchObject({ why: 'month-without-data' });
  expect(missing(REGION, '2026-05')).toMatchObject({ why: 'month-ahead' });
});
