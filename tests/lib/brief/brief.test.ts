import { expect, test } from 'vitest';
import { briefSchema } from '../../../lib/brief/briefSchema.ts';
import { sheetOf } from '../../../lib/brief/sheet.ts';
import { briefFor } from './briefs.ts';

test('a stalled meter is told with its check first, the part to carry and the code to record', () => {
  const brief = briefFor('u-19');
  expect(briefSchema.parse(JSON.parse(JSON.stringify(brief)))).toEqual(brief);
  expect(brief.why.map(({ kind }) => kind)).toEqual(['no-flow']);
  expect(brief.hardDaysSoFar).toBeGreaterThan(0);
  expect(brief.hardDaysExpected).toBeGreaterThan(0);
  expect(brief.causes.map(({ cause }) => cause).sort()).toEqual(['meter-stalled', null]);
  expect(brief.causes.reduce((sum, { probability }) => sum + probability, 0)).toBeCloseTo(1, 1);
  expect(brief.checks[0]?.check).toBe('flow-indicator');
  expect(brief.parts[0]).toEqual({
    part: 'turbine meter with its seals',
    because: 'The meter has stalled',
  });
  expect(brief.record[0]?.codes).toEqual(['meter-stalled', 'nothing-found']);
  expect(brief.beforeLeaving[0]).toContain('start a regeneration by hand');
  // 28 days were told, of which the last 13 without flow; all lie within the 45 of the chart.
  expect(brief.chart.days).toHaveLength(28);
  expect(brief.chart.days.filter(({ gallons }) => gallons === 0)).toHaveLength(13);
  expect(brief.chart.regenerations.length).toBeGreaterThan(0);
});

test('settings are to be set only where they are in doubt: to what the dose gives and the water has', () => {
  const sound = briefFor('u-17').settings;
  expect(sound.inDoubt).toBe(false);
  expect(sound.rows.map(({ set }) => set)).toEqual([null, null, null, null]);
  const wrong = briefFor('u-17', {
    programmed: {
      hardness: { value: 20, unit: '[gr]/[gal_us]' },
      capacity: { value: 60_000, unit: '[gr]' },
      regenerationHour: 2,
    },
  });
  expect(wrong.why.map(({ kind }) => kind)).toContain('setting-mismatch');
  expect(wrong.settings.inDoubt).toBe(true);
  // 6 lb in 1 cubic foot give about 20,000 grains: the usual figure of the trade.
  expect(wrong.settings.rows.slice(0, 2)).toEqual([
    { setting: 'capacityGrains', programmed: 60_000, set: 20_000 },
    { setting: 'hardnessGpg', programmed: 20, set: null },
  ]);
  expect(wrong.checks.map(({ check }) => check)).toContain('settings-read-back');
});

test('a unit that has reported nothing, and one with nothing open, have a brief too', () => {
  const fresh = briefFor('u-17', { isNew: true });
  expect(fresh).toMatchObject({ why: [], causes: [], lastReported: null, hardDaysSoFar: 0 });
  expect(fresh.chart.days).toEqual([]);
  expect(fresh.checks.length).toBeGreaterThan(2);
  expect(sheetOf(fresh, 'us').why[0]?.sentence).toContain('No alert is open');
});

test('metric figures are those of the units, with grains beside what a control may show in grains', () => {
  const values = sheetOf(briefFor('u-17'), 'metric').settings.map(({ now }) => now);
  // 20,000 grains are 1,296 g and 20 gpg 342 mg/L as CaCO3; 6 lb are 2.7 kg (factors of NIST SP 811).
  expect(values).toEqual(['1,296 g (20,000 grains)', '342 mg/L (20 gpg)', '2.7 kg', '02:00']);
});
