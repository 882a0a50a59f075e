import { existsSync, readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { parse } from 'csv-parse/sync';
import { afterAll, describe, expect, it } from 'vitest';
import { once } from '../../shared/once.ts';
import { brinebell, scratch } from '../support/command.ts';
import { lines, records } from '../support/smallFleet.ts';

const folder = scratch();
afterAll(folder.remove);

/** Three units in two regions, four weeks of March 2026. */
const small = {
  events: folder.file('events.ndjson', [...lines, 'no JSON'].join('\n')),
  units: folder.file('units.json', JSON.stringify(records)),
};
const SMALL = ['--events', small.events, '--units', small.units];

function report(out: string, ...args: string[]) {
  return brinebell(['report', ...args, '--out', out]);
}

function bare(html: string): string {
  return html
    .replace(/<style>[\s\S]*?<\/style>/, '')
    .replaceAll(/<[^>]*>/g, '')
    .replaceAll(/\s/g, '');
}

/** A fleet of two months, and the report of its first region's second month. */
const reported = once(() => {
  const fleet = folder.folder();
  const simulate = ['simulate', '--out', fleet, '--units', '8', '--days', '62', '--seed', '8'];
  if (brinebell(simulate).status !== 0) throw new Error('no fleet to report');
  const inputs = ['--events', join(fleet, 'events.ndjson'), '--units', join(fleet, 'units.json')];
  const units: { region: string }[] = JSON.parse(readFileSync(join(fleet, 'units.json'), 'utf8'));
  const region = units[0]?.region ?? '';
  const out = folder.folder();
  const run = report(out, region, '2025-02', ...inputs);
  return { region, inputs, out, run };
});

describe('brinebell report', () => {
  it('writes page, PDF and rows of one account', () => {
    const { region, out, run } = reported();
    expect(run).toMatchObject({ status: 0, stderr: '' });
    const name = `${region}-2025-02`;
    expect(readdirSync(out).sort()).toEqual([`${name}.csv`, `${name}.html`, `${name}.pdf`]);
    expect(run.stdout).toContain(`${name}.pdf`);
    const rows: Record<string, string>[] = parse(readFileSync(join(out, `${name}.csv`), 'utf8'), {
      columns: true,
    });
    expect(rows.map(({ region: of, month }) => [of, month])).toEqual([
      [region, '2025-01'],
      [region, '2025-02'],
    ]);
    const row = rows[1] ?? {};
    const text = bare(readFileSync(join(out, `${name}.html`), 'utf8'));
    const [, value = '', low = '', high = ''] =
      /Saltused([\d,.]+)lb80%:([\d,.]+)to([\d,.]+)lb/.exec(text) ?? [];
    const half = (Number(row.salt_used_high_lb) - Number(row.salt_used_low_lb)) / 2;
    expect(half).toBeGreaterThan(0);
    for (const [told, column] of [
      [value, 'salt_used_lb'],
      [low, 'salt_used_low_lb'],
      [high, 'salt_used_high_lb'],
    ] as const) {
      // Rounded to half of its interval's half at the most.
      expect(Math.abs(Number(told.replaceAll(',', '')) - Number(row[column]))).toBeLessThanOrEqual(
        half / 4 + 1e-6,
      );
    }
    expect(
      readFileSync(join(out, `${name}.pdf`))
        .subarray(0, 5)
        .toString(),
    ).toBe('%PDF-');
  });

  it('writes the same page whatever the threads, the memory and the order of the lines', () => {
    const { region, inputs, out } = reported();
    const other = folder.folder();
    expect(report(other, region, '2025-02', ...inputs, '--threads', '2', '--memory', '0').status).toBe(0);
    for (const form of ['html', 'csv']) {
      const name = `${region}-2025-02.${form}`;
      expect(readFileSync(join(other, name), 'utf8')).toBe(readFileSync(join(out, name), 'utf8'));
    }
  });

  it('tells of a month that goes on, in metric units where asked, and withholds in the form for sharing', () => {
    const out = folder.folder();
    const run = report(out, 'high-basin', '2026-03', ...SMALL, '--metric');
    expect(run).toMatchObject({ status: 0 });
    const page = bare(readFileSync(join(out, 'high-basin-2026-03.html'), 'utf8'));
    expect(page).toContain('March2026isnotoveryet');
    expect(page).toMatch(/Saltused[\d,.]+kg/);
    expect(readFileSync(join(out, 'high-basin-2026-03.pdf')).toString('latin1')).toContain(
      '/MediaBox [0 0 595.28 841.89]',
    );
    expect(report(out, 'high-basin', '2026-03', ...SMALL, '--shared').status).toBe(0);
    const shared = bare(readFileSync(join(out, 'high-basin-2026-03.html'), 'utf8'));
    expect(shared).toContain('Withheld');
    expect(shared).not.toMatch(/Saltused[\d,.]+lb/);
    expect(readFileSync(join(out, 'high-basin-2026-03.csv'), 'utf8')).toMatch(/all (month-open|few-units)/);
  });

  it('says what is wrong with what it is given, and writes nothing then', () => {
    const refused = (args: readonly string[], message: RegExp) => {
      const out = folder.folder();
      const { status, stderr } = report(out, ...args);
      expect([args, status, stderr]).toEqual([args, 2, expect.stringMatching(message)]);
      expect(existsSync(out) ? readdirSync(out) : []).toEqual([]);
    };
    refused(['nowhere', '2026-03', ...SMALL], /no region nowhere.*\n.*Regions: alder-county, high-basin\./);
    refused(['high-basin', '2026-3', ...SMALL], /no month such as 2026-03/);
    refused(
      ['high-basin', '2027-01', ...SMALL],
      /2027-01 is in the future.*\n.*Months of high-basin: 2026-03\./,
    );
    refused(['high-basin', '2025-11', ...SMALL], /nothing is known of high-basin in 2025-11.*\n.*2026-03\./);
    refused(['high-basin', '2026-03', '--events', small.events], /no registry.*\n.*--units/);
    refused(
      ['high-basin', '2026-03', ...SMALL, '--company', 'nobody'],
      /no units of nobody.*\n.*fenwick-water/,
    );
    refused(
      ['high-basin', '2026-03', ...SMALL, '--service', 'http://127.0.0.1:9'],
      /--service does not go with --events/,
    );
  });
});
