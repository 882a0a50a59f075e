import { describe, expect, it } from 'vitest';
import { admit } from '../../shared/admission.ts';
import { readmit } from '../../shared/readmit.ts';
import { formatInstant } from '../../shared/time/instant.ts';
import { formatLocalDate } from '../../shared/time/localDate.ts';
import { wire } from '../support/events.ts';
import { registryOf, unitRecord } from '../support/fleet.ts';

const { units } = registryOf(unitRecord());
const TIME = Date.parse('2026-11-02T05:00:00Z');
const RECORDED = Date.parse('2026-11-02T05:10:00Z');

/** UCUM essence file: 231 cubic inches, 7,000 grains of 64.79891 mg. */
const LITRES_IN_A_GALLON = 3.785411784;
const KG_IN_A_POUND = 0.45359237;
const litres = (gallons: number, unit = 'L') => ({ value: gallons * LITRES_IN_A_GALLON, unit });
const kg = (pounds: number) => ({ value: pounds * KG_IN_A_POUND, unit: 'kg' });
const hardness = (value: number) => ({ value, unit: '[gr]/[gal_us]' });
const close = (value: number) => expect.closeTo(value, 9);

/** Each type with all that it may say, in metric where it can be, and what the thinking sees of it. */
const FACTS: Record<string, [data: Record<string, unknown>, fact: Record<string, unknown>]> = {
  'flow-day': [
    {
      date: '2026-11-01',
      volume: litres(240),
      peakFlow: litres(6, 'L/min'),
      flowHours: 25,
      longestFlowMinutes: 12.5,
      register: { value: 1, unit: 'm3' },
    },
    {
      // The 25-hour day of New York ends at 05:00Z.
      at: TIME,
      date: 20_758,
      gallons: close(240),
      peakGpm: close(6),
      flowHours: 25,
      longestFlowMinutes: 12.5,
      registerGallons: close(1_000 / LITRES_IN_A_GALLON),
    },
  ],
  regeneration: [
    {
      trigger: 'metered',
      durationMinutes: 88,
      saltBefore: kg(120),
      saltAfter: kg(-1),
      brineDrawn: litres(2.26),
      water: litres(50),
      volumeSince: litres(760),
    },
    {
      trigger: 'metered',
      durationMinutes: 88,
      saltBeforeLb: close(120),
      saltAfterLb: close(-1),
      brineGallons: close(2.26),
      waterGallons: close(50),
      gallonsSince: close(760),
    },
  ],
  settings: [
    {
      hardness: { value: 20 * 17.118061, unit: 'mg/L' },
      capacity: { value: 20_000 * 0.06479891, unit: 'g' },
      regenerationHour: 2,
      clock: '14:03',
      saltDose: kg(6),
      mode: 'setup',
    },
    {
      hardnessGpg: expect.closeTo(20, 5),
      capacityGrains: close(20_000),
      regenerationHour: 2,
      clockMinutes: 843,
      saltDoseLb: close(6),
      mode: 'setup',
    },
  ],
  'salt-level': [{ mass: kg(-2) }, { lb: close(-2) }],
  power: [
    { lostAt: '2026-11-01T22:00:00-05:00', restoredAt: '2026-11-02T04:00:00Z', settingsKept: false },
    { lostAt: TIME - 7_200_000, restoredAt: TIME - 3_600_000, settingsKept: false },
  ],
  'service-visit': [
    {
      technician: 'tech-4',
      findings: ['bridge in the tank'],
      work: ['broke the bridge'],
      saltAdded: kg(80),
      rawHardness: hardness(20),
      coldHardness: hardness(0),
      hotHardness: hardness(1),
      notes: 'Ring twice.',
    },
    {
      technician: 'tech-4',
      findings: ['bridge in the tank'],
      work: ['broke the bridge'],
      saltAddedLb: close(80),
      rawHardnessGpg: 20,
      coldHardnessGpg: 0,
      hotHardnessGpg: 1,
      notes: 'Ring twice.',
    },
  ],
  away: [
    { from: '1970-01-01', to: '1970-01-31' },
    { from: 0, to: 30 },
  ],
  'at-home': [
    { from: '1970-02-01', to: '1970-02-01' },
    { from: 31, to: 31 },
  ],
};

describe('an accepted event', () => {
  it.each(Object.entries(FACTS))('%s is seen in the trade’s units', (type, [data, seen]) => {
    const line = JSON.stringify(wire(type, 'e-1', TIME, data, RECORDED));
    const admission = admit(line, units);
    const [unit] = units.values();
    const fact = { kind: type, id: 'e-1', time: TIME, known: RECORDED, at: TIME, ...seen };
    expect(admission).toEqual({ accepted: true, unit, fact });
    if (admission.accepted) expect(readmit(line, admission.unit)).toEqual(admission.fact);
  });

  it('is known from its time where nothing says when it was received', () => {
    for (const recordedtime of [undefined, null]) {
      const event = { ...wire('salt-level', 'e-1', TIME, { mass: kg(50) }), recordedtime };
      expect(admit(JSON.stringify(event), units)).toMatchObject({ fact: { time: TIME, known: TIME } });
    }
  });

  it('of a flow day stands at the end of that day at the site, whenever it closed', () => {
    const event = wire('flow-day', 'e-1', TIME + 9_000_000, { date: '2026-03-08', volume: litres(1) });
    const admission = admit(JSON.stringify(event), units);
    if (!admission.accepted || admission.fact.kind !== 'flow-day') throw new Error('not accepted');
    expect(formatInstant(admission.fact.at)).toBe('2026-03-09T04:00:00.000Z');
    expect(formatLocalDate(admission.fact.date)).toBe('2026-03-08');
  });
});
