import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { publish, slotsOf } from '../../../bench/scale/arrivals.ts';
import { batchSeconds } from '../../../bench/scale/batchSeconds.ts';
import { sweepReach, sweepSeconds } from '../../../bench/scale/bounds.ts';
import { readMeasured } from '../../../bench/scale/measured.ts';
import { run, type Scenario } from '../../../bench/scale/run.ts';
import { DEFAULTS, type Settings } from '../../../bench/scale/settings.ts';
import { Bucket } from '../../../bench/scale/simulator/bucket.ts';
import { Timeline } from '../../../bench/scale/simulator/timeline.ts';
import { FUNCTIONS } from '../../../infra/topology.ts';

const measured = await readMeasured(new URL('../../../bench/scale/measured.json', import.meta.url));

const anyReporting = fc.record({
  meters: fc.integer({ min: 1, max: 200_000 }),
  zones: fc.constantFrom(
    [{ laterHours: 0, share: 1 }],
    [
      { laterHours: 0, share: 0.5 },
      { laterHours: 3, share: 0.5 },
    ],
  ),
  clockSeconds: fc.constantFrom(0, 5, 60),
  spreadSeconds: fc.constantFrom(0, 60, 900),
});

describe('meters', () => {
  test('each report once, whenever that is', () => {
    fc.assert(
      fc.property(anyReporting, (reporting) => {
        const reported = [...slotsOf(reporting)];
        const whole = reporting.zones.reduce(
          (sum, { share }) => sum + Math.round(reporting.meters * share),
          0,
        );
        expect(reported.reduce((sum, { count }) => sum + count, 0)).toBe(whole);
        expect(reported.every(({ count }) => Number.isInteger(count) && count > 0)).toBe(true);
      }),
      { numRuns: 30 },
    );
  });

  test('publish until they are taken, no faster than they may', () => {
    fc.assert(
      fc.property(anyReporting, fc.integer({ min: 50, max: 5_000 }), (reporting, rate) => {
        const timeline = new Timeline();
        const limit = new Bucket(rate);
        let taken = 0;
        const few = { ...reporting, meters: Math.min(reporting.meters, rate * 60) };
        const given = [...slotsOf(few)];
        publish(timeline, given, [limit], (count) => {
          taken += count;
        });
        timeline.run();
        expect(taken).toBe(given.reduce((sum, { count }) => sum + count, 0));
        expect(limit.peak).toBeLessThanOrEqual(2 * rate);
      }),
      { numRuns: 30 },
    );
  });
});

function night(meters: number, settings: Partial<Settings>): Scenario {
  return {
    ...{ name: 'a night', what: '', look: 'facts' },
    fleet: { companies: 10, openShare: 0.05, transitionsALook: 0.01 },
    reporting: { meters, zones: [{ laterHours: 0, share: 1 }], clockSeconds: 5, spreadSeconds: 0 },
    settings: { ...DEFAULTS, ...settings },
  };
}

describe('a night', () => {
  test('has every report looked at and every alert told, whatever is limited, or parked', () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 100, max: 20_000 }),
        fc.record({
          tableWrites: fc.integer({ min: 500, max: 8_000 }),
          concurrency: fc.integer({ min: 2, max: 300 }),
          mails: fc.integer({ min: 1, max: 50 }),
          batchesMost: fc.integer({ min: 2, max: 200 }),
        }),
        (meters, settings) => {
          const { stages, alerts } = run(measured, night(meters, settings));
          expect(stages.ingest.messages).toBe(meters);
          expect(stages.assess.messages).toBe(meters - stages.ingest.dead);
          const looked = meters - stages.ingest.dead - stages.assess.dead;
          expect(Math.abs(stages.notify.messages - looked * 0.01)).toBeLessThanOrEqual(1);
          expect(alerts.count).toBe(stages.notify.messages - stages.notify.dead);
        },
      ),
      { numRuns: 15 },
    );
  });

  test('takes no less than its table allows', () => {
    const meters = 60_000;
    const slow = { tableWrites: 2_000, tableQuota: 2_000, hotPartitions: false };
    const { assessedAll, limits } = run(measured, night(meters, slow));
    const { warm } = measured.capacity;
    const writes = Object.values(warm.units).reduce((sum, { write }) => sum + write, 0) / warm.events;
    // Reports come within 40 seconds; sound units write at least so much, less what a full bucket had to begin with.
    expect(assessedAll).toBeGreaterThan((meters * writes) / 2_000 - 41);
    expect(limits.writes.peak).toBeLessThanOrEqual(4_000 + 1e-6);
  });

  test('has more memory shorten a batch, up to a whole vCPU', () => {
    const seconds = (memoryMb: number) =>
      batchSeconds(measured.handlers.assess, 10, { memoryMb, sendMs: 10 });
    expect(seconds(512)).toBeGreaterThan(seconds(1_024));
    expect(seconds(1_024)).toBeGreaterThan(seconds(1_769));
    expect(seconds(1_769)).toBe(seconds(3_008));
  });
});

test('the sweep gets through as many units as its time allows, and not one more', () => {
  for (const share of [0.1, 0.48, 1]) {
    const units = sweepReach(measured, share, 1_024);
    expect(sweepSeconds(measured, units, share, 1_024)).toBeLessThanOrEqual(FUNCTIONS.sweep.timeoutSeconds);
    expect(sweepSeconds(measured, units + 1, share, 1_024)).toBeGreaterThan(FUNCTIONS.sweep.timeoutSeconds);
  }
});
