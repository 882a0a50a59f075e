import { quantile } from '../../../lib/score/statistics.ts';
import { inWords, type Share } from '../../set/cpuProfile.ts';
import { median } from '../../set/spread.ts';
import type { Bound, Found } from '../comparison.ts';
import type { Counted } from './capacity.ts';
import type { Latencies } from './latencies.ts';

export const MQTT = 'published over MQTT, until all are in their units’ states';
export const BARE = 'bare batch writes into the same table';
/** Events a second beside those of bare writes. */
const LEAST_SHARE = 1 / 3;
const MOST_SECONDS = 2;
const QUANTILES = [0.01, 0.1, 0.2, 0.3, 0.4, 0.5, 0.6, 0.7, 0.8, 0.9, 0.95, 0.99];
/** Of capacity units, from early in a history to late, where it is to be flat; common sense, no source. */
const MOST_GROWTH = 0.1;

/** What was measured: events a second of both sides, what the service's thread did, times to alert, and capacity by age. */
interface Given {
  readonly rates: ReadonlyMap<string, readonly number[]>;
  readonly shares: readonly Share[];
  readonly latencies: Latencies;
  readonly counted: readonly Counted[];
}

/** What that says, beside the bounds that were set. */
export function found({ rates, shares, latencies: { steady, burst }, counted }: Given): Found {
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
        title: 'From publish to alert',
        ...{ x: 'share of the alerts that were told of by then (%)', y: 'time (s)', logarithmic: false },
        lines: [quantilesOf('at half the load', steady), quantilesOf('all meters at once', burst)],
      },
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

function quantilesOf(name: string, seconds: readonly number[]) {
  const points = QUANTILES.map((share) => ({ x: 100 * share, y: quantile(seconds, share) ?? Number.NaN }));
  return { name, points };
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
