import { type Reporting, US_ZONES } from './arrivals.ts';
import { ASSUMED, LIMITS } from './limits.ts';
import type { Scenario } from './run.ts';
import { DEFAULTS, type Settings } from './settings.ts';

const MILLION = 1_000_000;
/** Half of the meters' clocks are within 40 seconds. A guess, no source. */
const CLOCK_SECONDS = 60;
const FLEET = {
  companies: 200,
  /** A guess, no source: of the invented fleets of the README, half of whose units are faulty, it is some 0.1. */
  openShare: 0.05,
  transitionsALook: ASSUMED.transitionsAUnitDay,
};

function reporting(meters: number, changes: Partial<Reporting> = {}): Reporting {
  return { meters, zones: US_ZONES, clockSeconds: CLOCK_SECONDS, spreadSeconds: 0, ...changes };
}

function scenario(name: string, what: string, meters: number, changes: Changes = {}): Scenario {
  const { settings = {}, fleet = {}, reports = {}, ...others } = changes;
  return {
    name,
    what,
    look: 'facts',
    fleet: { ...FLEET, ...fleet },
    reporting: reporting(meters, reports),
    settings: { ...DEFAULTS, ...settings },
    ...others,
  };
}

interface Changes {
  readonly settings?: Partial<Settings>;
  readonly fleet?: Partial<Scenario['fleet']>;
  readonly reports?: Partial<Reporting>;
  readonly look?: Scenario['look'];
  readonly sweepRate?: number;
}

const TEN = { companies: 2_000 };
const NOON = { look: 'noon', sweepRate: 5_000 } as const;
const QUOTA = {
  tableWrites: LIMITS.dynamodb.tableWrites.value,
  tableReads: LIMITS.dynamodb.tableReads.value,
};
/** A night later the table takes twice what it took in the first, at the least. */
const SECOND = {
  tableWrites: 2 * LIMITS.dynamodb.writes.value,
  tableReads: 2 * LIMITS.dynamodb.reads.value,
};
/**
 * What is to be asked for at a million and at ten, clocks as they are: the most that a run without limits takes in a
 * second, a quarter added, and round. Partitions are taken not to get hot, as if what makes them so were mended.
 */
const ASKED: Record<'one' | 'ten', Partial<Settings>> = {
  one: { tableWrites: 12_000, hotPartitions: false, mails: 50 },
  ten: {
    publishes: 40_000,
    batchesMost: 300,
    tableWrites: 120_000,
    tableReads: 90_000,
    tableQuota: 120_000,
    hotPartitions: false,
    mails: 200,
    notifyBatchesMost: 20,
  },
};

/** A usual day of a fleet whose table has grown to it and which has asked for what it needs: what is billed. */
export function billed(meters: number, look: Scenario['look']): Scenario {
  const settings = meters > MILLION ? ASKED.ten : ASKED.one;
  return scenario('billed', '', meters, { settings, look, ...(look === 'noon' && NOON) });
}

/** What is tried, in the order of the page. */
export const SCENARIOS: readonly Scenario[] = [
  scenario('100k', '100,000 meters, nothing asked of AWS, first night of the table', 100_000),
  scenario('1m', '1 million, the same', MILLION),
  scenario('1m-second', '1 million, second night', MILLION, { settings: SECOND }),
  scenario('1m-asked', '1 million with what is to be asked for', MILLION, { settings: ASKED.one }),
  scenario('1m-spread', '1 million, first night, each meter waits up to 30 minutes', MILLION, {
    reports: { spreadSeconds: 1_800 },
  }),
  scenario('1m-exact', '1 million, second night, all clocks exact', MILLION, {
    settings: SECOND,
    reports: { clockSeconds: 0 },
  }),
  scenario('1m-one-zone', '1 million in one zone, second night', MILLION, {
    settings: SECOND,
    reports: { zones: [{ laterHours: 0, share: 1 }] },
  }),
  scenario('1m-one-company', '1 million of one company, second night', MILLION, {
    settings: SECOND,
    fleet: { companies: 1 },
  }),
  scenario('1m-connect', '1 million that connect to report, second night', MILLION, {
    settings: { ...SECOND, connects: LIMITS.iot.connects.value },
  }),
  scenario('1m-plain-fifo', '1 million, second night, FIFO without high throughput', MILLION, {
    settings: { ...SECOND, fifoCalls: LIMITS.sqs.fifoCallsPlain.value },
  }),
  scenario('1m-noon', 'noon of 1 million, if the sweep made 5,000 messages a second', MILLION, {
    settings: SECOND,
    ...NOON,
    fleet: { transitionsALook: 0 },
  }),
  scenario('1m-outage', 'the same, a tenth of the meters silent, 500 in each company', MILLION, {
    settings: SECOND,
    ...NOON,
    fleet: { transitionsALook: 0.1, silentACompany: 500 },
  }),
  scenario('10m', '10 million, nothing asked, first night', 10 * MILLION, { fleet: TEN }),
  scenario('10m-quota', '10 million, table at its default quota', 10 * MILLION, {
    settings: QUOTA,
    fleet: TEN,
  }),
  scenario('10m-asked', '10 million with what is to be asked for', 10 * MILLION, {
    settings: ASKED.ten,
    fleet: TEN,
  }),
  scenario(
    '10m-spread',
    '10 million, nothing asked, first night, each meter waits up to 4 hours',
    10 * MILLION,
    {
      fleet: TEN,
      reports: { spreadSeconds: 14_400 },
    },
  ),
];
