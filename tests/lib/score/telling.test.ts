import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { scoreFleet, scoreSchema } from '../../../lib/score/score.ts';
import { ALERT_KINDS, type Alert, type AlertKind, CAUSES } from '../../../shared/alerts.ts';
import { formatLocalDate } from '../../../shared/time/localDate.ts';
import { alert, DAYS, dateOf, FROM, fault, noon, seenOf, truth, unit } from './fleets.ts';

/** A clock that is off from 1 June, shows on the 10th and is set on 1 July. */
const clock = fault({
  ...{ kind: 'clock-off', cause: 'drift', from: '2025-06-01', to: '2025-07-01' },
  detail: {
    fault: 'clock-drift',
    shownOn: '2025-06-10',
    also: [{ kind: 'overrun', cause: 'reserve-short' }],
  },
});
const dwindling = fault({
  ...{ kind: 'no-flow', cause: 'meter-stalled', from: '2025-06-10', to: '2025-07-10' },
  detail: { fault: 'meter-stalled', dwindlingFrom: '2025-06-01' },
});

describe('a fault', () => {
  it.each<
    [
      told: boolean,
      delay: number | null,
      what: string,
      raised: string,
      cleared: string | null,
      Partial<Alert>,
    ]
  >([
    [true, 0, 'on the day on which it shows', '2025-06-10', null, {}],
    [true, 4, 'some days after', '2025-06-14', '2025-06-15', {}],
    [true, 23, 'two days after it was mended', '2025-07-03', null, {}],
    [false, null, 'three days after', '2025-07-04', null, {}],
    [true, 0, 'before, and still open then', '2025-06-03', '2025-06-11', {}],
    [false, null, 'before, and over by then', '2025-06-03', '2025-06-10', {}],
    [true, 4, 'by what follows from it', '2025-06-14', null, { kind: 'overrun', cause: 'reserve-short' }],
    [false, null, 'by another kind', '2025-06-14', null, { kind: 'silent-unit' }],
  ])('is told: %s, on day %s, if that is %s', (isTold, delay, _, raised, cleared, over) => {
    const clearedAt = cleared === null ? null : noon(cleared);
    const told = alert({ kind: 'clock-off', cause: 'drift', raisedAt: noon(raised), clearedAt, ...over });
    const { faults } = scoreFleet([unit([clock], [told])]);
    expect(faults).toMatchObject([
      { fault: 'clock-drift', recall: Number(isTold), medianDelayDays: delay, rightCause: isTold ? 1 : null },
    ]);
  });

  it.each([
    ['2025-05-29', 1],
    ['2025-05-28', 0],
  ])('that creeps in from 1 June may be told three days before, on %s: %s', (raised, recall) => {
    const told = alert({ kind: 'no-flow', raisedAt: noon(raised), clearedAt: noon('2025-06-02') });
    expect(scoreFleet([unit([dwindling], [told])]).faults).toMatchObject([
      { recall, medianDelayDays: recall ? 0 : null },
    ]);
  });

  it('is told once by one alert, and names its cause at once or later', () => {
    const other = fault({ kind: 'clock-off', cause: 'twelve-hours', from: '2025-06-12', to: '2025-07-20' });
    const said = (cause: Alert['cause'], date: string) =>
      alert({ kind: 'clock-off', cause, raisedAt: noon(date) });
    const [score] = scoreFleet([unit([clock, other], [said('twelve-hours', '2025-06-13')])]).events;
    // The drift, over first, takes the alert, whose cause is wrong for it; the other fault is not told.
    expect(score).toMatchObject({ kind: 'clock-off', sensed: 2, recall: 1 / 2, rightCauseFirst: 0 });
    const both = [said('drift', '2025-06-12'), said('twelve-hours', '2025-06-13')];
    expect(scoreFleet([unit([clock, other], both)]).events).toMatchObject([
      { recall: 1, rightCauseFirst: 1 },
    ]);
    const late = [said('twelve-hours', '2025-06-12'), said('drift', '2025-06-20')];
    expect(scoreFleet([unit([clock], late)])).toMatchObject({ rightCauseFirst: 0, rightCause: 1 });
  });

  it('of regenerations without salt is told by the second of three', () => {
    const short = (date: string) =>
      truth('regeneration-without-salt', date, date, { at: `${date}T09:00:00Z` });
    const shorts = ['2025-06-10', '2025-06-17', '2025-06-24'].map(short);
    const empty = fault({ kind: 'no-salt-draw', cause: 'tank-empty', from: '2025-06-10', to: '2025-07-01' });
    const told = alert({ kind: 'no-salt-draw', cause: 'tank-empty', raisedAt: noon('2025-06-17') });
    expect(scoreFleet([unit([empty, ...shorts], [told])]).faults).toMatchObject([
      { medianDelayDays: 7, medianDelayRegenerations: 2, p90DelayRegenerations: 2 },
    ]);
  });

  it('is counted where it showed for long enough, and for recall where the unit senses it', () => {
    const never = fault({ kind: 'clock-off', from: '2025-03-01', detail: { shownOn: null } });
    const short = fault({ kind: 'clock-off', from: '2025-03-01', to: '2025-03-14' });
    const leak = fault({
      kind: 'continuous-flow',
      cause: 'leak',
      from: '2025-05-01',
      detail: { fault: 'leak' },
    });
    const told = alert({ kind: 'continuous-flow', cause: 'leak', raisedAt: noon('2025-05-02') });
    const deaf = unit([leak], [], { unit: { ...unit([], []).unit, senses: ['salt-level'] } });
    const score = scoreFleet([unit([never, short], []), unit([leak], [told]), deaf]);
    expect(score).toMatchObject({ neverShown: 1, tooShort: 1 });
    expect(score.faults).toMatchObject([{ fault: 'leak', sensed: 1, all: 2, recall: 1, recallOfAll: 1 / 2 }]);
  });
});

describe('an alert', () => {
  it('is true once, true again, or false', () => {
    const overrun = truth('overrun', '2025-02-01', '2025-02-03');
    const said = (kind: AlertKind, date: string) => alert({ kind, raisedAt: noon(date) });
    const alerts = [
      // Of the overrun, up to 14 days after its end; the second tells of the same, the third of nothing.
      ...[said('overrun', '2025-02-02'), said('overrun', '2025-02-17'), said('overrun', '2025-02-18')],
      // Of the clock that is off, after it was set, and of what follows from it.
      ...[said('clock-off', '2025-07-03'), said('clock-off', '2025-07-04'), said('overrun', '2025-06-20')],
    ];
    const { kinds } = scoreFleet([unit([clock, overrun], alerts)]);
    expect(kinds).toMatchObject([
      // Matched: those of 2 February and 20 June. 2 / (2 + 1) of events, 3 / 4 of alerts.
      {
        kind: 'overrun',
        raised: 4,
        matched: 2,
        again: 1,
        falseAlarms: 1,
        precision: 3 / 4,
        eventPrecision: 2 / 3,
      },
      {
        kind: 'clock-off',
        raised: 2,
        matched: 1,
        again: 0,
        falseAlarms: 1,
        precision: 1 / 2,
        eventPrecision: 1 / 2,
      },
    ]);
  });

  it('of salt that runs out is true by the truth, or by what was used after it', () => {
    const gallons = new Array<number>(DAYS).fill(100);
    const mass = { value: 40, unit: '[lb_av]' };
    const level = { id: 'l', type: 'brinebell.salt-level.v1', time: noon('2025-03-01'), data: { mass } };
    const regenerations = (count: number) =>
      Array.from({ length: count }, (_, index) => ({
        ...{ id: `r${index}`, type: 'brinebell.regeneration.v1', data: { trigger: 'manual' } },
        time: noon(dateOf('2025-03-02') + 4 * index),
      }));
    const said = [alert({ kind: 'salt-low', raisedAt: noon('2025-03-01') })];
    const falseWith = (count: number) =>
      scoreFleet([unit([], said, { seen: seenOf(gallons, [level, ...regenerations(count)]) })]).kinds[0]
        ?.falseAlarms;
    // 40 lb at 8 lb a regeneration are five of them: on 2, 6, 10, 14 and 18 March, within 26 days.
    expect([falseWith(4), falseWith(5)]).toEqual([1, 0]);
    const low = truth('salt-low', '2025-02-20', '2025-03-05');
    expect(scoreFleet([unit([low], said)]).kinds).toMatchObject([{ kind: 'salt-low', falseAlarms: 0 }]);
  });

  it.each<[AlertKind, string, number]>([
    ['silent-unit', 'outage', 0],
    ['silent-unit', 'record-gap', 0],
    ['silent-unit', 'guests', 1],
    ['setting-mismatch', 'settings-lost', 0],
    ['overrun', 'settings-lost', 1],
  ])('of %s beside %s is false: %s', (kind, confounder, falseAlarms) => {
    const entry = truth('confounder', '2025-04-01', '2025-04-04', { confounder });
    const { kinds } = scoreFleet([unit([entry], [alert({ kind, raisedAt: noon('2025-04-03') })])]);
    expect(kinds).toMatchObject([
      { kind, falseAlarms, falseAHealthyUnitYear: falseAlarms / (DAYS / 365.25) },
    ]);
  });

  it('is not judged when the fleet is over', () => {
    const silent = (day: number) => alert({ kind: 'silent-unit', raisedAt: noon(FROM + DAYS + day) });
    const { kinds, afterEnd, load } = scoreFleet([unit([], [silent(0), silent(1)])]);
    expect({ afterEnd, kinds }).toMatchObject({ afterEnd: 1, kinds: [{ raised: 1, falseAlarms: 1 }] });
    // One alert in 365 days of one unit, as of 2,000; its day has 2,000.
    expect(load).toMatchObject({ alarmsADay: 2000 / DAYS, worstDay: 2000, medianDay: 0 });
  });

  it('has each step of its history judged by its own day', () => {
    const history = [
      { at: noon('2025-05-20'), severity: 'soon' as const, probability: 0.3 },
      { at: noon('2025-06-12'), severity: 'soon' as const, probability: 0.8 },
      { at: noon('2025-07-20'), severity: 'soon' as const, probability: 0.4 },
    ];
    const over = { raisedAt: noon('2025-05-20'), clearedAt: noon('2025-08-01'), probability: 0.3, history };
    const { whenRaised, allSteps } = scoreFleet([
      unit([clock], [alert({ kind: 'clock-off', ...over })]),
    ]).calibration;
    // Raised for nothing; then the clock was off, and then it was set.
    expect(whenRaised.brier).toBeCloseTo(0.3 ** 2, 12);
    expect(allSteps.brier).toBeCloseTo((0.3 ** 2 + 0.2 ** 2 + 0.4 ** 2) / 3, 12);
    expect(allSteps.calibrationError).toBeCloseTo((0.3 + 0.2 + 0.4) / 3, 12);
  });
});

/** Units with a fault each, of any kind, which shows at once and is mended long after. */
const faultyFleet = fc
  .array(
    fc.record({
      kind: fc.constantFrom(...ALERT_KINDS.filter((kind) => CAUSES[kind].length > 0)),
      day: fc.integer({ min: 0, max: 200 }),
      lasts: fc.integer({ min: 40, max: 120 }),
    }),
    { minLength: 1, maxLength: 6 },
  )
  .map((faults) =>
    faults.map(({ kind, day, lasts }) => {
      const from = formatLocalDate(FROM + day);
      const cause = CAUSES[kind][0] ?? null;
      const to = formatLocalDate(FROM + day + lasts);
      const clearedAt = noon(FROM + day + lasts);
      return unit(
        [fault({ kind, cause, from, to, detail: { fault: kind } })],
        [alert({ kind, cause, raisedAt: noon(FROM + day), clearedAt, probability: 1 })],
      );
    }),
  );

describe('scores', () => {
  it('of perfect alerts are perfect, fit their schema, and one false alert lowers precision alone', () => {
    fc.assert(
      fc.property(faultyFleet, fc.integer({ min: 330, max: 364 }), (fleet, day) => {
        const perfect = scoreSchema.parse(scoreFleet(fleet));
        for (const each of [...perfect.events, ...perfect.faults]) {
          expect(each).toMatchObject({ recall: 1, recallByOwnKind: 1, rightCauseFirst: 1, p90DelayDays: 0 });
        }
        for (const each of perfect.kinds) {
          expect(each).toMatchObject({
            precision: 1,
            eventPrecision: 1,
            falseAUnitYear: 0,
            brier: 0,
            calibrationError: 0,
          });
        }
        const [first, ...others] = fleet;
        const own = first?.alerts[0];
        if (!first || !own) throw new Error('an empty fleet');
        const wrong = { ...own, raisedAt: noon(FROM + day), clearedAt: null };
        const worse = scoreFleet([{ ...first, alerts: [wrong, ...first.alerts] }, ...others]);
        expect({ ...worse, kinds: 0, calibration: 0, load: 0, stall: 0 }).toEqual({
          ...{ ...perfect, kinds: 0, calibration: 0, load: 0, stall: 0 },
        });
        expect(worse.stall.sentByDay21).toBe(perfect.stall.sentByDay21);
        for (const each of worse.kinds) {
          const before = perfect.kinds.find(({ kind }) => kind === each.kind);
          if (each.kind === own.kind) expect(each.precision).toBeLessThan(before?.precision ?? 0);
          else expect(each).toEqual(before);
        }
      }),
      { numRuns: 40 },
    );
  });
});
