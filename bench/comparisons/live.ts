import { quantile } from '../../lib/score/statistics.ts';
import type { SimulatedUnit } from '../../lib/simulation/simulate.ts';
import { factKey } from '../../lib/store/factKey.ts';
import { simulatedFleet } from '../scale/unitDay.ts';
import { byTurns } from '../set/byTurns.ts';
import { inWords, type Share } from '../set/cpuProfile.ts';
import { median } from '../set/spread.ts';
import type { Bound, Comparison, Found } from './comparison.ts';
import { type Alerting, alertingOf } from './live/alerting.ts';
import { type Counted, unitDayAsItGrows } from './live/capacity.ts';
import { type Latencies, latenciesOf } from './live/latencies.ts';
import { type LiveService, startLive } from './live/liveService.ts';
import { profiled } from './live/profile.ts';

const SIZES = {
  small: {
    meters: 8,
    each: 60,
    rounds: 2,
    seconds: 5,
    spread: 2,
    together: 2,
    history: 40,
    units: 2,
    days: 100,
  },
  whole: {
    meters: 40,
    each: 200,
    rounds: 5,
    seconds: 120,
    spread: 240,
    together: 60,
    history: 60,
    units: 6,
    days: 3000,
  },
} as const;
const COMPANY = 'larkwater';
const DAY_MS = 86_400_000;
const MQTT = 'published over MQTT, until all are in their units’ states';
const BARE = 'bare batch writes into the same table';
/** Events a second beside those of bare writes. */
const LEAST_SHARE = 1 / 3;
const MOST_SECONDS = 2;
/** Of capacity units, from early in a history to late, where it is to be flat; common sense, no source. */
const MOST_GROWTH = 0.1;

/** What the live service of one machine takes in, how soon it tells, and what a unit costs its table as history grows. */
export const live: Comparison = {
  name: 'live',
  question:
    'How many events a second does the service take beside bare writes, and how soon does it tell of an alert?',
  async run(size, say) {
    const { meters, each, rounds, seconds, spread, together, history, units, days } = SIZES[size];
    // Enough for the rounds and for the load after them: a meter sends some 1.7 events a day.
    const quiet = fleet(meters, each * rounds + 1_200, 0);
    say(`looking for ${spread + together} events that raise alerts`);
    const raising = await raisingFleet(spread + together, history);
    const service = await startLive(
      COMPANY,
      [...quiet, ...raising].map(({ record }) => record),
    );
    let rates: ReadonlyMap<string, readonly number[]>;
    let shares: readonly Share[];
    let latencies: Latencies;
    try {
      rates = await ratesOf(service, quiet, { each, rounds }, say);
      say('where the time goes');
      shares = await profiled(() => publishAll(service, quiet, { from: each * rounds, each }));
      say('histories of the units of which an event will raise an alert');
      await service.send(raising.flatMap(({ before }) => before));
      await service.settled();
      say('from publish to alert');
      latencies = await latenciesOf(service, {
        quiet: quiet.map(({ record, events }) => ({
          unitId: record.unitId,
          left: events.slice(each * (rounds + 1)),
        })),
        ...{ spread: raising.slice(0, spread), together: raising.slice(spread) },
        ...{ seconds, perSecond: median(rates.get(MQTT) ?? []) / 2 },
      });
    } finally {
      await service.stop();
    }
    say(`capacity over ${days} days of history`);
    return found(rates, shares, latencies, await unitDayAsItGrows(units, days));
  },
};

function fleet(units: number, days: number, faults: number): SimulatedUnit[] {
  return simulatedFleet({ units, days, start: Math.floor(Date.now() / DAY_MS) - days - 2, faults });
}

/** Units of which some event raises an alert, under other names than those of the quiet ones. */
async function raisingFleet(wanted: number, days: number): Promise<readonly Alerting[]> {
  const all: Alerting[] = [];
  for (const { record, ...unit } of fleet(2 * wanted, days, 1)) {
    if (all.length === wanted) break;
    const unitId = `raising-${record.unitId}`;
    const events = unit.events.map((event) => ({
      ...event,
      source: `/companies/${COMPANY}/units/${unitId}`,
    }));
    const found = await alertingOf({ ...unit, record: { ...record, unitId }, events });
    if (found) all.push(found);
  }
  return all;
}

/** Has every quiet meter publish so many of its events, and waits until all are in their units' states. */
async function publishAll(
  service: LiveService,
  quiet: readonly SimulatedUnit[],
  { from, each }: { from: number; each: number },
): Promise<void> {
  await Promise.all(
    quiet.map(({ record, events }) => service.publish(record.unitId, events.slice(from, from + each))),
  );
  await service.settled();
}

async function ratesOf(
  service: LiveService,
  quiet: readonly SimulatedUnit[],
  { each, rounds }: { each: number; rounds: number },
  say: (line: string) => void,
): Promise<ReadonlyMap<string, readonly number[]>> {
  const rate = async (take: () => Promise<void>) => {
    const began = performance.now();
    await take();
    return (quiet.length * each) / ((performance.now() - began) / 1000);
  };
  const done = new Map([MQTT, BARE].map((name) => [name, 0]));
  const nextOf = (name: string) => {
    const round = done.get(name) ?? 0;
    done.set(name, round + 1);
    return round;
  };
  const sides = [
    {
      name: MQTT,
      run: () => rate(() => publishAll(service, quiet, { from: each * nextOf(MQTT), each })),
    },
    {
      name: BARE,
      run: () =>
        rate(async () => {
          const from = each * nextOf(BARE);
          await Promise.all(
            quiet.map(async ({ record: { unitId }, events }) => {
              const lines = events.slice(from, from + each).map((event) => JSON.stringify(event));
              const facts = lines.map((line) => ({ line, key: factKey(line).key }));
              await service.store.putFacts([{ unit: { companyId: 'beside', unitId }, facts }]);
            }),
          );
        }),
    },
  ];
  return byTurns(sides, rounds, say);
}

function found(
  rates: ReadonlyMap<string, readonly number[]>,
  shares: readonly Share[],
  { steady, burst }: Latencies,
  counted: readonly Counted[],
): Found {
  const [mqtt, bare] = [rates.get(MQTT) ?? [], rates.get(BARE) ?? []];
  const line = (name: string, y: (each: Counted) => number) => ({
    name,
    points: counted.map((each) => ({ x: each.after, y: y(each) })),
  });
  return {
    measured: [
      { what: MQTT, unit: 'events a second', rounds: mqtt },
      { what: BARE, unit: 'events a second', rounds: bare },
      { what: 'from publish to webhook, at half that load', unit: 'seconds', rounds: steady },
      { what: 'from publish to webhook, all meters at once', unit: 'seconds', rounds: burst },
      ...shares.map(({ name, share }) => ({
        what: `of the service's thread: ${name}`,
        unit: '% of its time',
        rounds: [100 * share],
      })),
      ...counted.flatMap(({ after, write, read }) => [
        { what: `a unit-day after ${after} days of history`, unit: 'write units', rounds: [write] },
        { what: `a unit-day after ${after} days of history`, unit: 'read units', rounds: [read] },
      ]),
    ],
    plots: [
      {
        title: 'What a unit-day takes of the table as its history grows',
        ...{ x: 'history (days)', y: 'capacity units a unit-day', logarithmic: false },
        lines: [line('writes', ({ write }) => write), line('reads', ({ read }) => read)],
      },
    ],
    bounds: [
      shareBound(median(mqtt) / median(bare), shares),
      soonBound('at half the load', steady),
      soonBound('all meters at once', burst),
      flatBound(counted),
    ],
    notes: [
      'Broker, queues, functions and the webhook’s receiver are one thread of Node.js; the table is an emulator in another, which both sides ask, and the meters that publish are a third. Bare writes are those of the facts alone, 25 a call, one unit’s after another and all units’ at once.',
      'Every event that comes over MQTT is on disk before it is acknowledged; it is then judged, stored, taken into its unit’s state with a forecast, and its unit’s row of the attention list written.',
      `Messages are gathered for a second before a batch that is not full is judged, here as in the cloud; times to alert have that in them. They are those of ${steady.length} alerts under the steady load and of ${burst.length} in the burst.`,
    ],
  };
}

function shareBound(share: number, shares: readonly Share[]): Bound {
  const holds = share >= LEAST_SHARE;
  return {
    what: 'Events a second through MQTT beside bare batch writes',
    asked: 'at least a third',
    measured: `${(100 * share).toFixed(0)} %`,
    holds,
    ...(!holds && {
      because: `a batch write of 25 facts is one call of the table and little else. An event is taken in over MQTT, flushed to the disk, judged, and folded, and the service does all of that in one thread, whose time goes to ${inWords(shares)}.`,
    }),
  };
}

function soonBound(when: string, seconds: readonly number[]): Bound {
  const [half, most] = [quantile(seconds, 0.5) ?? Number.NaN, quantile(seconds, 0.99) ?? Number.NaN];
  const holds = most < MOST_SECONDS;
  return {
    what: `From publish to alert, 99th percentile, ${when}`,
    asked: 'under 2 s',
    measured: `${most.toFixed(2)} s (half of them within ${half.toFixed(2)} s)`,
    holds,
    ...(!holds && {
      because: 'of it one second is the gathering of messages; the rest is the wait for a processor.',
    }),
  };
}

function flatBound(counted: readonly Counted[]): Bound {
  const sum = ({ write, read }: Counted) => write + read;
  const [first, last] = [counted[0], counted.at(-1)];
  const more = first && last ? sum(last) / sum(first) - 1 : Number.NaN;
  return {
    what: `Capacity units of a unit-day after ${last?.after} days beside ${first?.after}`,
    asked: `flat: at most ${100 * MOST_GROWTH} % more`,
    measured: `${(100 * more).toFixed(1)} % more`,
    holds: more <= MOST_GROWTH,
  };
}
