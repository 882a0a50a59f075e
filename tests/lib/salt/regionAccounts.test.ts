import { describe, expect, it } from 'vitest';
import { type Wire, wire, zoneOf } from '../../support/events.ts';
import { registryOf, unitRecord } from '../../support/fleet.ts';
import { linesOf, play } from '../../support/household.ts';
import { replayLines } from '../../support/replayLines.ts';

const registry = registryOf(unitRecord());

describe('the salt accounts of a region', () => {
  it('come out by hand: January of a steady household on 1 ft3 at 6 lb and 20 gpg', () => {
    const { salt } = replayLines(linesOf(play({ days: 27, gallons: () => 240 })), registry);
    expect(salt).toHaveLength(1);
    const [january] = salt;
    // 5 to 31 January; due every fourth morning, so six times by the 29th.
    expect(january).toMatchObject({ region: 'alder-county', month: '2026-01', units_reporting: 1 });
    expect(january).toMatchObject({ unit_days: 27, unit_days_missing: 0, regenerations: 6 });
    expect(january?.water_treated_gal).toBeCloseTo(27 * 240, 6);
    expect(january?.salt_used_lb).toBeCloseTo(36, 6);
    expect(january?.salt_inferred_share).toBe(1);
    expect(january?.grains_removed).toBeCloseTo(27 * 240 * 20, 6);
    expect(january?.grains_per_lb).toBeCloseTo((27 * 240 * 20) / 36, 6);
    // 0.60663 lb of chloride to a pound of NaCl: 35.453 / 58.443, computed.
    expect(january?.chloride_lb).toBeCloseTo(36 * 0.60663, 3);
  });

  it('keep months by the zone of the site, and each unit in its own region', () => {
    const two = registryOf(
      unitRecord({ timeZone: 'Pacific/Honolulu' }),
      unitRecord({ unitId: 'u-18', region: 'birch-county', timeZone: 'Pacific/Auckland' }),
    );
    // The same instant is 31 January in Honolulu and 1 February in Auckland.
    const time = Date.parse('2026-02-01T05:00:00Z');
    const one = wire('regeneration', 'r', time, { trigger: 'manual' });
    const other: Wire = { ...one, source: '/companies/fenwick-water/units/u-18' };
    const { salt } = replayLines(linesOf([one, other]), two);
    expect(salt.map(({ region, month, regenerations }) => [region, month, regenerations])).toEqual([
      ['alder-county', '2026-01', 1],
      ['birch-county', '2026-02', 1],
    ]);
  });

  it('count a missing day as missing, up to the end of the replay and over a month without any', () => {
    const zone = zoneOf('America/New_York');
    const days = play({ days: 100, gallons: () => 200 }).filter(({ type }) => type.includes('flow-day'));
    const kept = days.filter((_, day) => day < 10 || day === 99);
    const end = wire('salt-level', 'end', zone.startOf(Date.parse('2026-04-20T00:00:00Z') / 864e5), {
      mass: { value: 90, unit: '[lb_av]' },
    });
    const { salt } = replayLines(linesOf([...kept, end]), registry);
    const rows = salt.map(({ month, unit_days, unit_days_missing }) => [month, unit_days, unit_days_missing]);
    // From 5 January; day 99 is 14 April, and the end is the midnight that begins the 20th.
    expect(rows).toEqual([
      ['2026-01', 10, 17],
      ['2026-02', 0, 28],
      ['2026-03', 0, 31],
      ['2026-04', 1, 18],
    ]);
  });

  it('measure salt by level where it was read, infer it by dose where not, and say which', () => {
    const zone = zoneOf('America/New_York');
    const lb = (value: number) => ({ value, unit: '[lb_av]' });
    const at = (day: number) => zone.startOf(Date.parse('2026-03-01T00:00:00Z') / 864e5 + day);
    const regenerations = [
      { saltBefore: lb(100), saltAfter: lb(92) },
      // Salt was put in meanwhile: the rise says nothing of what was used.
      { saltBefore: lb(40), saltAfter: lb(75) },
      // Nothing was drawn, so nothing was used.
      { brineDrawn: { value: 0, unit: 'L' } },
      {},
    ];
    const events = regenerations.map((data, day) =>
      wire('regeneration', `r${day}`, at(day), { trigger: 'metered', ...data }),
    );
    const [march] = replayLines(linesOf(events), registry).salt;
    expect(march?.salt_used_lb).toBeCloseTo(8 + 6 + 0 + 6, 9);
    expect(march?.salt_measured_share).toBeCloseTo(8 / 20, 9);
  });
});
