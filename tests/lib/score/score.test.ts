import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { scoreFleet } from '../../../lib/score/score.ts';
import type { ScoredUnit } from '../../../lib/score/scoredUnit.ts';
import { brierOf, calibrationError, reliability } from '../../../lib/score/statistics.ts';
import type { Truth } from '../../../lib/simulation/truth.ts';
import type { Alert } from '../../../shared/alerts.ts';
import { parseLocalDate } from '../../../shared/time/localDate.ts';
import { zoneNamed } from '../../../shared/time/zone.ts';

const zone = zoneNamed('America/Phoenix');
if (!zone) throw new Error('the runtime knows no zones');
const FROM = parseLocalDate('2025-01-01') ?? 0;
/** A little less than a unit-year, which is 365.25 days. */
const DAYS = 365;

function alert(over: Partial<Alert> & Pick<Alert, 'kind' | 'raisedAt'>): Alert {
  const { raisedAt, severity = 'soon', probability = 0.9 } = over;
  return {
    ...{ unitId: 'u', cause: null, severity, clearedAt: null, probability },
    history: [{ at: raisedAt, severity, probability }],
    summary: 'Something is wrong.',
    evidence: {},
    ...over,
  };
}

function unit(truth: Omit<Truth, 'unitId'>[], alerts: Alert[]): ScoredUnit {
  return {
    unit: { unitId: 'u', zone: zone ?? fail(), senses: ['salt-level', 'peak-flow'], alternating: false },
    truth: truth.map((each) => ({ unitId: 'u', ...each })),
    alerts,
    from: FROM,
    to: FROM + DAYS - 1,
  };
}

function fail(): never {
  throw new Error('no zone');
}

function fault(name: string, over: Partial<Truth>): Omit<Truth, 'unitId'> {
  const {
    from = '2025-04-01',
    to = '2025-06-01',
    kind = 'no-flow',
    cause = 'meter-stalled',
    detail = {},
  } = over;
  return {
    what: 'fault',
    kind,
    cause,
    from,
    to,
    detail: { fault: name, shownOn: from, also: [], ...detail },
  };
}

const at = (date: string) => `${date}T19:00:00.000Z`;

describe('a score', () => {
  const stalled = unit(
    [fault('meter-stalled', {})],
    [
      alert({
        kind: 'no-flow',
        cause: 'meter-stalled',
        severity: 'soon',
        raisedAt: at('2025-04-06'),
        clearedAt: at('2025-06-02'),
        history: [
          { at: at('2025-04-06'), severity: 'routine', probability: 0.2 },
          { at: at('2025-04-15'), severity: 'soon', probability: 0.7 },
        ],
      }),
      // A question asked of a household that was away, in another season.
      alert({
        kind: 'no-flow',
        cause: 'meter-stalled',
        severity: 'routine',
        raisedAt: at('2025-09-01'),
        clearedAt: at('2025-09-09'),
        probability: 0.2,
      }),
    ],
  );
  const leaking = unit(
    [
      fault('leak', { kind: 'continuous-flow', cause: 'leak', from: '2025-05-10', to: '2025-05-20' }),
      {
        what: 'overrun',
        kind: 'overrun',
        cause: 'reserve-short',
        from: '2025-05-12',
        to: '2025-05-13',
        detail: {},
      },
    ],
    [alert({ kind: 'overrun', cause: 'reserve-short', raisedAt: at('2025-05-13') })],
  );
  const healthy = unit([], [alert({ kind: 'clock-off', cause: 'drift', raisedAt: at('2025-03-03') })]);
  const fleet = [stalled, leaking, healthy];

  it('is what one counts by hand', () => {
    const score = scoreFleet(fleet);
    expect(score.faults).toMatchObject([
      { fault: 'leak', sensed: 1, recall: 0, rightCause: null },
      // Told on 6 April of what showed on 1 April.
      { fault: 'meter-stalled', sensed: 1, recall: 1, medianDelayDays: 5, rightCause: 1 },
    ]);
    // One question in three unit-years (3 x 365 / 365.25) was needless; the trip, on 15 April, was none.
    const years = (3 * DAYS) / 365.25;
    expect(score.stall).toEqual({
      stalls: 1,
      medianDayAsked: 5,
      needlessQuestionsAUnitYear: 1 / years,
      sentByDay21: 1,
      falseTripsAUnitYear: 0,
    });
    expect(score.kinds.map(({ kind, precision }) => [kind, precision])).toEqual([
      ['no-flow', 1 / 2],
      ['overrun', 1],
      ['clock-off', 0],
    ]);
    expect(score.falseAHealthyUnitYear).toBeCloseTo(365.25 / DAYS, 12);
    expect(score.load).toMatchObject({ twiceOnADay: 0, chattering: 0 });
  });

  it('of perfect alerts is perfect', () => {
    const perfect = unit(
      [fault('leak', { kind: 'continuous-flow', cause: 'leak' })],
      [alert({ kind: 'continuous-flow', cause: 'leak', raisedAt: at('2025-04-01'), probability: 1 })],
    );
    const { faults, kinds, rightCause, falseAHealthyUnitYear } = scoreFleet([perfect, unit([], [])]);
    expect(faults).toMatchObject([{ recall: 1, medianDelayDays: 0, rightCause: 1 }]);
    expect(kinds).toMatchObject([{ precision: 1, falseAlarms: 0 }]);
    expect([rightCause, falseAHealthyUnitYear]).toEqual([1, 0]);
  });

  it('hangs on no order, and one false alarm more lowers what can be trusted and nothing else', () => {
    fc.assert(
      fc.property(
        fc.shuffledSubarray(fleet, { minLength: 3 }),
        fc.integer({ min: 0, max: 300 }),
        (shuffled, day) => {
          const whole = scoreFleet(fleet);
          const mixed = shuffled.map((each) => ({ ...each, alerts: [...each.alerts].reverse() }));
          expect(scoreFleet(mixed)).toEqual(whole);
          const raisedAt = new Date((FROM + day) * 86_400_000 + 68_400_000).toISOString();
          const more = {
            ...healthy,
            alerts: [
              ...healthy.alerts,
              alert({ kind: 'long-regeneration', cause: 'drive-failed', raisedAt }),
            ],
          };
          const worse = scoreFleet([stalled, leaking, more]);
          expect(worse.faults).toEqual(whole.faults);
          expect(worse.stall).toEqual(whole.stall);
          expect(worse.falseAHealthyUnitYear).toBeGreaterThan(whole.falseAHealthyUnitYear ?? Infinity);
        },
      ),
    );
  });
});

describe('probabilities', () => {
  it('have the Brier score of reference.md, group 13 (derived)', () => {
    const said = [
      { probability: 0.9, happened: true },
      { probability: 0.2, happened: false },
      { probability: 0.6, happened: true },
    ];
    expect(brierOf(said)).toBeCloseTo(0.07, 12);
  });

  it('that come true as often as they say are calibrated, whatever they are', () => {
    fc.assert(
      fc.property(fc.array(fc.integer({ min: 0, max: 10 }), { minLength: 1, maxLength: 8 }), (tenths) => {
        const said = tenths.flatMap((tenth) =>
          Array.from({ length: 10 }, (_, index) => ({ probability: tenth / 10, happened: index < tenth })),
        );
        expect(calibrationError(said)).toBeCloseTo(0, 9);
        expect(reliability(said).reduce((sum, { count }) => sum + count, 0)).toBe(said.length);
        const off = said.map(({ probability }) => ({ probability, happened: probability < 0.5 }));
        if (tenths.some((tenth) => tenth !== 5)) expect(calibrationError(off)).toBeGreaterThan(0);
      }),
    );
  });
});
