import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { simpleNoFlow, simpleSilent } from '../../../lib/score/baselines.ts';
import { scoreFleet } from '../../../lib/score/score.ts';
import { SeenLog } from '../../../lib/score/seen.ts';
import { alert, FROM, fault, linesOf, noon, seenOf, truth, unit, zone } from './fleets.ts';

const days = (count: number, gallons: number) => new Array<number>(count).fill(gallons);
/** Away on 11 to 15 January, stalled from 21 January to 1 February, when it is mended. */
const use = [...days(10, 90), ...days(5, 0), ...days(5, 90), ...days(11, 0), ...days(9, 90)];
const stalled = fault({ kind: 'no-flow', cause: 'meter-stalled', from: '2025-01-21', to: '2025-02-01' });

describe('what is said of runs of days without flow', () => {
  it('is scored from the third day on, by hand', () => {
    // Raised on 24 January, when the third zero, of the 23rd, is known; surer on the 27th, when that of the 26th is.
    const said = alert({
      ...{ kind: 'no-flow', raisedAt: noon('2025-01-24'), clearedAt: noon('2025-02-02') },
      history: [
        { at: noon('2025-01-24'), severity: 'routine', probability: 0.4 },
        { at: noon('2025-01-27'), severity: 'soon', probability: 0.9 },
      ],
    });
    const to = FROM + use.length - 1;
    const { runs } = scoreFleet([unit([stalled], [said], { to, seen: seenOf(use) })]);
    // Third days: 13 January, of which nothing was said, and 23 January, at 0.4: (0 + 0.36) / 2.
    expect(runs).toMatchObject({
      runs: 2,
      thirdDay: { count: 2, stalled: 1, ofSilence: 1 / 2, ofShare: 1 / 4 },
    });
    expect(runs?.thirdDay.brier).toBeCloseTo(0.18, 12);
    // 13, 14, 15 January at 0; 23, 24, 25 at 0.4 and 26 to 31 January at 0.9 of a stall: (3 x 0.36 + 6 x 0.01) / 12.
    expect(runs?.fromThirdDay).toMatchObject({ count: 12, stalled: 9, ofSilence: 9 / 12 });
    expect(runs?.fromThirdDay.brier).toBeCloseTo(1.14 / 12, 12);
    expect(runs?.boundCurve).toBeNull();
  });

  it('goes on over a day that was not reported', () => {
    const seen = seenOf([90, 0, 0, 0, 0, 90]);
    const drew = new Map([...(seen?.drew ?? [])].filter(([date]) => date !== FROM + 2));
    expect(scoreFleet([unit([], [], { seen: seen && { ...seen, drew } })]).runs).toMatchObject({
      runs: 1,
      fromThirdDay: { count: 1 },
    });
  });
});

describe('a question', () => {
  it.each([
    ['2025-01-21', 1],
    ['2025-01-22', 0],
    ['2025-02-02', 0],
    ['2025-02-03', 1],
  ])('of %s is needless: %s, as a day without flow is known on the next', (raised, needless) => {
    const asked = alert({
      kind: 'no-flow',
      severity: 'routine',
      raisedAt: noon(raised),
      clearedAt: noon('2025-02-05'),
    });
    const { stall } = scoreFleet([unit([stalled], [asked])]);
    expect(stall).toMatchObject({
      needlessQuestionsAUnitYear: needless / (365 / 365.25),
      falseTripsAUnitYear: 0,
    });
  });

  it('was asked on no day where most households were not', () => {
    const long = fault({
      kind: 'no-flow',
      from: '2025-01-21',
      to: '2025-03-01',
      detail: { fault: 'meter-stalled' },
    });
    const asked = alert({ kind: 'no-flow', severity: 'routine', raisedAt: noon('2025-01-25') });
    const fleet = [unit([long], [asked]), unit([long], []), unit([long], [])];
    expect(scoreFleet(fleet).stall).toMatchObject({ stalls: 3, medianDayAsked: null, sentByDay21: 0 });
    expect(scoreFleet(fleet.slice(0, 2)).stall).toMatchObject({ stalls: 2, medianDayAsked: 4 });
  });
});

describe('simple rules', () => {
  it('send somebody after seven days without flow, until there is some', () => {
    const alerts = simpleNoFlow(unit([stalled], [], { seen: seenOf(use) }));
    // The seventh zero is that of 27 January, known when the 28th begins; 1 February, with flow, is over on the 2nd.
    expect(alerts).toMatchObject([
      {
        kind: 'no-flow',
        severity: 'soon',
        raisedAt: '2025-01-28T07:00:00.000Z',
        clearedAt: '2025-02-02T07:00:00.000Z',
      },
    ]);
  });

  it('tell of two days in which nothing was received, also at the end', () => {
    const start = zone.startOf(FROM);
    const hour = 3_600_000;
    const heard = [0, 47, 96, 100].map((hours) => start + hours * hour);
    const seen = seenOf([]);
    const alerts = simpleSilent(unit([], [], { seen: seen && { ...seen, heard } }));
    // 47 hours are no two days, 49 are; after the last one nothing comes any more.
    expect(alerts.map(({ raisedAt, clearedAt }) => [raisedAt, clearedAt])).toEqual([
      [new Date(start + 95 * hour).toISOString(), new Date(start + 96 * hour).toISOString()],
      [new Date(start + 148 * hour).toISOString(), null],
    ]);
  });

  it('stand beside the replay, and beside no alerts at all', () => {
    const lasting = fault({
      ...{ kind: 'no-flow', cause: 'meter-stalled', from: '2025-01-21' },
      detail: { fault: 'meter-stalled' },
    });
    const seen = seenOf([...days(10, 90), ...days(8, 0), ...days(2, 90), ...days(345, 0)]);
    const { baselines } = scoreFleet([
      unit([lasting, truth('absence', '2025-01-11', '2025-01-18')], [], { seen }),
    ]);
    const years = 365 / 365.25;
    expect(baselines?.filter(({ kind }) => kind === 'no-flow')).toMatchObject([
      { by: 'replay', recall: 0, sentByDay21: 0, falseTripsAUnitYear: 0 },
      { by: 'never', raised: 0, recall: 0, precision: null, sentByDay21: 0 },
      // One trip in two is for nothing; the other is on the seventh day of the stall.
      {
        by: 'simple',
        raised: 2,
        recall: 1,
        precision: 1 / 2,
        medianDelayDays: 7,
        sentByDay21: 1,
        falseTripsAUnitYear: 1 / years,
      },
    ]);
  });
});

describe('events as they were seen', () => {
  const others = [
    {
      id: 'a',
      type: 'brinebell.away.v1',
      time: noon('2025-01-10'),
      data: { from: '2025-01-11', to: '2025-01-15' },
    },
    {
      id: 'h',
      type: 'brinebell.at-home.v1',
      time: noon('2025-01-25'),
      data: { from: '2025-01-25', to: '2025-01-25' },
    },
    { id: 'r', type: 'brinebell.regeneration.v1', time: noon('2025-01-05'), data: { trigger: 'metered' } },
  ];
  // The second flow day of 2 January corrects the first.
  const corrected = {
    ...{ id: 'f1-corrected', type: 'brinebell.flow-day.v1', time: noon('2025-01-04') },
    data: { date: '2025-01-02', volume: { value: 0, unit: 'L' } },
  };
  const lines = linesOf(use, [...others, corrected]);

  it('are the same in any order of lines, and beside lines that are none', () => {
    const read = (given: readonly string[]) => {
      const log = new SeenLog(['u']);
      for (const line of given) log.add(line);
      return log.of('u');
    };
    const whole = read(lines);
    expect(whole).toMatchObject({
      away: [{ from: FROM + 10, to: FROM + 14 }],
      atHome: [{ from: FROM + 24 }],
    });
    expect([whole?.drew.get(FROM), whole?.drew.get(FROM + 1), whole?.drew.get(FROM + 10)]).toEqual([
      true,
      false,
      false,
    ]);
    const odd = [
      lines[0]?.slice(0, 70) ?? '',
      '',
      'null',
      lines[0]?.replace('/units/u', '/units/unheard-of') ?? '',
      lines[0]?.replace('flow-day', 'water-quality') ?? '',
    ];
    fc.assert(
      fc.property(
        fc.shuffledSubarray([...lines, ...odd], { minLength: lines.length + odd.length }),
        (mixed) => {
          expect(read(mixed)).toEqual(whole);
        },
      ),
      { numRuns: 20 },
    );
  });
});
