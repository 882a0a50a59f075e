import type { SimulatedUnit } from '../../lib/simulation/simulate.ts';
import { factKey } from '../../lib/store/factKey.ts';
import { simulatedFleet } from '../scale/unitDay.ts';
import { byTurns } from '../set/byTurns.ts';
import type { Share } from '../set/cpuProfile.ts';
import { median } from '../set/spread.ts';
import type { Comparison } from './comparison.ts';
import { type Alerting, alertingOf } from './live/alerting.ts';
import { unitDayAsItGrows } from './live/capacity.ts';
import { BARE, found, MQTT } from './live/found.ts';
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
    return found({ rates, shares, latencies, counted: await unitDayAsItGrows(units, days) });
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
