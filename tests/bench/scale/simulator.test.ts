import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { Bucket } from '../../../bench/scale/simulator/bucket.ts';
import { Account } from '../../../bench/scale/simulator/lambda.ts';
import { Stage } from '../../../bench/scale/simulator/stage.ts';
import type { StageOptions } from '../../../bench/scale/simulator/stageOptions.ts';
import { Timeline } from '../../../bench/scale/simulator/timeline.ts';
import { Chance } from '../../../lib/simulation/chance.ts';

const plain: StageOptions = {
  name: 'server',
  batchSize: 1,
  windowSeconds: 0,
  visibilitySeconds: 1e9,
  maxReceives: 8,
  pollers: { atFirst: 1, aSecond: 0, most: 1 },
  inFlightMost: Number.POSITIVE_INFINITY,
  coldSeconds: 0,
  seconds: () => 1,
  needs: [],
  retrySeconds: [],
};
const endless = { concurrency: 1e9, scaling: { atOnce: 1e9, aSecond: 1e9 } };

function start(options: Partial<StageOptions>, account: Partial<typeof endless> = {}, seed = 1) {
  const timeline = new Timeline();
  const lambda = new Account(timeline, { ...endless, ...account });
  const stage = new Stage(timeline, lambda, new Chance(seed), { ...plain, ...options });
  return { timeline, lambda, stage };
}

describe('closed forms', () => {
  test('a burst of n takes ceil(n / (servers x batch)) services', () => {
    const whole = (most: number) => fc.integer({ min: 1, max: most });
    fc.assert(
      fc.property(whole(500), whole(9), whole(12), whole(50), (count, servers, batchSize, tenths) => {
        const pollers = { atFirst: servers, aSecond: 0, most: servers };
        const { timeline, stage } = start({ batchSize, pollers, seconds: () => tenths / 10 });
        stage.send(count, 0);
        timeline.run();
        const services = Math.ceil(Math.ceil(count / batchSize) / servers);
        expect(stage.lastDoneAt).toBeCloseTo((services * tenths) / 10, 6);
        expect(stage.sojourn.count).toBe(count);
      }),
      { numRuns: 60 },
    );
  });

  // Mean time in queue: Pollaczek (1930) and Khinchine (1932), as in Kleinrock, Queueing Systems I (1975), section 5.6:
  // rho s (1 + cv^2) / (2 (1 - rho)). From memory, unverified; with cv = 1 it is the known M/M/1 result.
  test.each([
    ['M/D/1', 0, (_: Chance) => 1],
    ['M/M/1', 1, (chance: Chance) => -Math.log(1 - chance.uniform())],
  ])('%s waits as Pollaczek and Khinchine say', (_, cv, service) => {
    const rho = 0.6;
    const count = 20_000;
    const means = Array.from({ length: 12 }, (_unused, seed) => {
      const { timeline, stage } = start({ seconds: (_messages, chance) => service(chance) }, {}, 100 + seed);
      const chance = new Chance(200 + seed);
      let at = 0;
      for (let each = 0; each < count; each += 1) {
        at += -Math.log(1 - chance.uniform()) / rho;
        const bornAt = at;
        timeline.at(at, () => stage.send(1, bornAt));
      }
      timeline.run();
      return stage.sojourn.sum / count - 1;
    });
    const mean = means.reduce((sum, each) => sum + each, 0) / means.length;
    const variance = means.reduce((sum, each) => sum + (each - mean) ** 2, 0) / (means.length - 1);
    const error = Math.sqrt(variance / means.length);
    const expected = (rho * (1 + cv ** 2)) / (2 * (1 - rho));
    // Four standard errors of twelve seeded runs; that is at most some 4 % here, so a wrong formula would show.
    expect(Math.abs(mean - expected)).toBeLessThan(4 * error);
    expect(error).toBeLessThan(0.02 * (1 + expected));
  });

  test('where the table is what limits, a burst takes its units over its rate', () => {
    const bucket = new Bucket(400);
    const needs = [{ bucket, amount: (messages: number) => messages * 3 }];
    const pollers = { atFirst: 50, aSecond: 0, most: 50 };
    const { timeline, stage } = start({
      ...{ batchSize: 10, pollers, needs, seconds: () => 0.1, visibilitySeconds: 5, maxReceives: 1e6 },
      retrySeconds: [0.2, 0.4],
    });
    stage.send(20_000, 0);
    timeline.run();
    const fluid = (20_000 * 3) / 400;
    expect(stage.lastDoneAt).toBeGreaterThan(fluid - 1.1);
    expect(stage.lastDoneAt).toBeLessThan(fluid * 1.1 + 5);
    expect(bucket.used).toBeCloseTo(60_000, 3);
    expect(bucket.peak).toBeLessThanOrEqual(800);
  });

  test('pollers grow as they are let', () => {
    const pollers = { atFirst: 5, aSecond: 5, most: 1250 };
    const { timeline, stage } = start({ batchSize: 10, pollers, seconds: () => 0.2 });
    stage.send(200_000, 0);
    timeline.run();
    // Done by t: 10 / 0.2 messages a second and poller, the integral of 5 + 5 t pollers: 250 t + 125 t^2.
    const fluid = (-250 + Math.sqrt(250 ** 2 + 4 * 125 * 200_000)) / 250;
    expect(Math.abs(stage.lastDoneAt - fluid)).toBeLessThan(1);
  });
});

/** Any queue that a run may have: throttled or not, with a table that is too slow, with messages that end up dead. */
const anyRun = fc.record({
  bursts: fc.array(
    fc.record({ at: fc.integer({ min: 0, max: 90 }), count: fc.integer({ min: 1, max: 800 }) }),
    {
      minLength: 1,
      maxLength: 6,
    },
  ),
  batchSize: fc.integer({ min: 1, max: 100 }),
  windowSeconds: fc.constantFrom(0, 1, 5),
  most: fc.integer({ min: 1, max: 40 }),
  concurrency: fc.integer({ min: 1, max: 20 }),
  rate: fc.integer({ min: 5, max: 500 }),
  inFlightMost: fc.integer({ min: 10, max: 500 }),
  maxReceives: fc.integer({ min: 1, max: 4 }),
  seed: fc.nat(),
});

function runOf(given: typeof anyRun extends fc.Arbitrary<infer Given> ? Given : never) {
  const { bursts, batchSize, windowSeconds, most, concurrency, rate, inFlightMost, maxReceives, seed } =
    given;
  const bucket = new Bucket(rate);
  const begun = start(
    {
      ...{ batchSize, windowSeconds, inFlightMost, maxReceives, visibilitySeconds: 20, coldSeconds: 0.4 },
      pollers: { atFirst: 2, aSecond: 1, most },
      needs: [{ bucket, amount: (messages) => messages * 2 }],
      seconds: (messages, chance) => chance.uniform(0.01, 0.05) * messages,
      retrySeconds: [0.5, 1],
    },
    { concurrency, scaling: { atOnce: 5, aSecond: 1 } },
    seed,
  );
  const { timeline, stage } = begun;
  for (const { at, count } of bursts) timeline.at(at, () => stage.send(count, at));
  timeline.run();
  const sent = bursts.reduce((sum, { count }) => sum + count, 0);
  return { ...begun, bucket, sent };
}

describe('every run', () => {
  test("obeys Little's law: the messages present, over time, are what each stayed", () => {
    fc.assert(
      fc.property(anyRun, (given) => {
        const { stage } = runOf(given);
        expect(stage.area).toBeCloseTo(stage.sojourn.sum, 3);
      }),
      { numRuns: 60 },
    );
  });

  test('loses no message and ends empty', () => {
    fc.assert(
      fc.property(anyRun, (given) => {
        const { stage, sent, lambda } = runOf(given);
        expect(stage.sent).toBe(sent);
        expect(stage.lateness.count + stage.dead).toBe(sent);
        expect([stage.present, stage.waiting, stage.running, lambda.running]).toEqual([0, 0, 0, 0]);
      }),
      { numRuns: 60 },
    );
  });

  test('keeps within its limits', () => {
    fc.assert(
      fc.property(anyRun, (given) => {
        const { lambda, bucket } = runOf(given);
        expect(lambda.most).toBeLessThanOrEqual(Math.min(given.concurrency, given.most));
        // What was held, and what came in the second itself.
        expect(bucket.peak).toBeLessThanOrEqual(2 * given.rate + 1e-6);
      }),
      { numRuns: 60 },
    );
  });

  test('is the same for the same seed', () => {
    fc.assert(
      fc.property(anyRun, (given) => {
        const times = () => {
          const { stage, lambda } = runOf(given);
          return [stage.lastDoneAt, stage.sojourn.sum, stage.dead, lambda.throttled];
        };
        expect(times()).toEqual(times());
      }),
      { numRuns: 20 },
    );
  });
});
