import { describe, expect, it } from 'vitest';
import { compareAlerts } from '../../../lib/trial/compare.ts';
import { changeInWords } from '../../../lib/trial/page/changeInWords.ts';
import { pageOf } from '../../../lib/trial/page/page.ts';
import { rowOf } from '../../../lib/trial/row.ts';
import { type NotTried, trialSummaryOf } from '../../../lib/trial/summary.ts';
import { addUnit, emptyTally } from '../../../lib/trial/tally.ts';
import { rulesSchema } from '../../../lib/watch/rules.ts';
import type { Alert } from '../../../shared/alerts.ts';
import { alert } from './alerts.ts';

const present = rulesSchema.parse({});
const run = { present, proposed: present, until: Date.UTC(2026, 6, 1), notTried: [], readWhole: true };
const HOSTILE = `<script>alert('"&</script>`;

function pageFor(before: readonly Alert[], after: readonly Alert[], over: { notTried?: NotTried[] } = {}) {
  const tally = emptyTally();
  const rows = compareAlerts(before, after).map((pair) => rowOf('u-1', pair));
  addUnit(tally, { unitId: 'u-1', days: 200, rows, accepted: 1 });
  return pageOf(trialSummaryOf(tally, { ...run, ...over }), tally.mostChanged);
}

const stall = (raisedAt: string, over: Partial<Alert> = {}) =>
  alert({ kind: 'no-flow', raisedAt, clearedAt: '2026-05-20T16:00:00.000Z', ...over });

describe('the page of a trial', () => {
  it('runs nothing that stands in words of ours or of others', () => {
    const range = { first: HOSTILE, last: HOSTILE, units: 3, reason: HOSTILE, detail: HOSTILE };
    const page = pageFor([stall('2026-05-01T16:00:00.000Z', { summary: HOSTILE })], [], {
      notTried: [range],
    });
    expect(page).not.toContain('<script');
    expect(page.match(/&lt;script&gt;/g)?.length).toBeGreaterThanOrEqual(5);
  });

  it('draws an alert where it lay in the time that is shown', () => {
    // From the first alert, on 1 May, to the end, on 1 July: 61 days, of which 19 and 20.
    const page = pageFor([stall('2026-05-01T00:00:00.000Z', { clearedAt: '2026-05-20T00:00:00.000Z' })], []);
    expect(page).toContain(`x="0.00%" width="${((19 / 61) * 100).toFixed(2)}%"`);
    const open = pageFor(
      [stall('2026-05-01T00:00:00.000Z'), stall('2026-06-10T00:00:00.000Z', { clearedAt: null })],
      [],
    );
    expect(open).toContain(`x="${((40 / 61) * 100).toFixed(2)}%" width="${((21 / 61) * 100).toFixed(2)}%"`);
  });

  it('leaves the numbers of the axis room beside the bars', () => {
    const page = pageFor([stall('2026-05-01T00:00:00.000Z'), stall('2026-06-10T00:00:00.000Z')], []);
    const bars = [...page.matchAll(/<rect class="(?:before|after)" x="([\d.]+)%" width="([\d.]+)%"/g)];
    expect(bars.length).toBeGreaterThan(0);
    for (const [, x, width] of bars) {
      expect(Number(x)).toBeGreaterThanOrEqual(6);
      expect(Number(x) + Number(width)).toBeLessThanOrEqual(100);
    }
  });

  it('shows no unit where nothing changes, and nothing that is not a number', () => {
    const same = [stall('2026-05-01T16:00:00.000Z')];
    for (const page of [
      pageFor(same, same),
      pageFor([], []),
      pageOf(trialSummaryOf(emptyTally(), run), []),
    ]) {
      expect(page).not.toContain('Unit by unit');
      expect(page).not.toMatch(/NaN|undefined|Infinity/);
    }
  });
});

it('says what becomes of an alert', () => {
  const [gone] = compareAlerts([stall('2026-05-01T16:00:00.000Z', { summary: 'The meter is still.' })], []);
  const later = stall('2026-05-05T16:00:00.000Z', {
    cause: 'meter-stalled',
    severity: 'soon',
    probability: 0.5,
  });
  const [moved] = compareAlerts([stall('2026-05-01T16:00:00.000Z')], [later]);
  expect([gone, moved].map((pair) => pair && changeInWords(rowOf('u-1', pair)))).toEqual([
    'no-flow (routine) of 2026-05-01 would not be raised. The meter is still.',
    'no-flow of 2026-05-01: raised 4 days later, on 2026-05-05; soon instead of routine; meter-stalled instead of no cause; probability 50 % instead of 90 %.',
  ]);
});
