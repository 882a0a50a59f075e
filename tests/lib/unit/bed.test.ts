import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { availableGrains, freshBed, regenerate, treat } from '../../../lib/unit/bed.ts';
import { registryOf, unitRecord } from '../../support/fleet.ts';
import { linesOf, play } from '../../support/household.ts';
import { replayLines } from '../../support/replayLines.ts';

const registry = registryOf(unitRecord());

describe('the ledger of a bed', () => {
  it('follows the worked example: 4 people x 60 gal x 20 gpg on 1 ft3 at 6 lb', () => {
    // Worked by hand from 20,000 gr/ft3 at 6 lb (35 Ill. Adm. Code 604.805(c)): 1,000 gallons gross, and with a reserve of one
    // day's 240 the control is due at 760, so after the fourth day; 3.17 days of use on the average of uneven ones.
    const { forecasts } = replayLines(linesOf(play({ days: 30, gallons: () => 240 })), registry);
    const [first, , , fourth, fifth] = forecasts;
    expect(first?.remaining).toBeCloseTo(760, 6);
    expect(fourth?.remaining).toBeCloseTo(40, 6);
    expect(fourth?.reserve).toBeCloseTo(240, 6);
    expect(fourth?.nextRegeneration).toEqual({ p10: '2026-01-09', p50: '2026-01-09', p90: '2026-01-09' });
    // The whole fifth day is the regenerated bed's, but for what was drawn before two in the morning.
    expect(fifth?.remaining).toBeGreaterThan(760);
    expect(fifth?.remaining).toBeLessThan(780);
  });

  it('uses no more salt than the doses, and removes no more hardness than the water held or the beds could take', () => {
    fc.assert(
      fc.property(fc.array(fc.integer({ min: 0, max: 900 }), { minLength: 5, maxLength: 60 }), (use) => {
        const { salt } = replayLines(
          linesOf(play({ days: use.length, gallons: (day) => use[day] ?? 0 })),
          registry,
        );
        const sum = (pick: (row: (typeof salt)[number]) => number) =>
          salt.reduce((total, row) => total + pick(row), 0);
        const regenerations = sum((row) => row.regenerations);
        expect(sum((row) => row.salt_used_lb)).toBeCloseTo(6 * regenerations, 6);
        const removed = sum((row) => row.grains_removed);
        expect(removed).toBeLessThanOrEqual(20 * use.reduce((total, each) => total + each, 0) + 1e-6);
        // What is drawn before the hour of a regeneration counts as softened: at most 5 % of a day's use each.
        expect(removed).toBeLessThanOrEqual(
          20_000 * (regenerations + 1) + 0.05 * 900 * 20 * regenerations + 1e-6,
        );
      }),
      { numRuns: 100 },
    );
  });

  it('gives back what a short dose drew, on top of what was left, and never more than a whole dose', () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 0, max: 2000 }),
        fc.integer({ min: 0, max: 600 }),
        fc.boolean(),
        (gallons, hundredthsDrawn, alternating) => {
          const drawnLb = hundredthsDrawn / 100;
          const bed = freshBed(1, 6, alternating);
          treat(bed, 0, { gallons, hardnessGpg: 20, imputed: false }, 6);
          const left = Math.max(0, 20_000 - 20 * gallons);
          regenerate(bed, 6, 0);
          // Of two beds the fresh one goes into service, and the short dose shows a cycle later.
          if (alternating) {
            expect(availableGrains(bed, drawnLb)).toBe(20_000);
            regenerate(bed, drawnLb, 0);
          }
          const available = availableGrains(bed, drawnLb);
          expect(available).toBeLessThanOrEqual(20_000);
          expect(available).toBeGreaterThanOrEqual(left);
          if (drawnLb === 6) expect(available).toBe(20_000);
          if (drawnLb === 0) expect(available).toBe(left);
          // No salt restores more than chemistry allows: 5,993.9 gr/lb (7000 x 50.04345 / 58.443, computed).
          expect(available - left).toBeLessThanOrEqual(5993.9 * drawnLb + 1e-6);
        },
      ),
    );
  });
});
