import { type Reporting, US_ZONES } from './arrivals.ts';
import { ASSUMED, LIMITS } from './limits.ts';
import { DEFAULTS, type Settings } from './pipeline.ts';
import type { Scenario } from './run.ts';

const MILLION = 1_000_000;
/** Half of the meters' clocks are within 40 seconds. A guess, no source. */
const CLOCK_SECONDS = 60;
const FLEET = {
  companies: 1_000,
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

/** Nothing of what the design itself makes slow, so that one sees what the quotas do. */
const COOL = { hotPartitions: false };
/** The table warmed beforehand to all that its quota lets it take, which the default quota does not forbid. */
const WARM = {
  tableWrites: LIMITS.dynamodb.tableWrites.value,
  tableReads: LIMITS.dynamodb.tableReads.value,
};
/** What is to be asked for at a million and at ten: see the decision page for how it comes about. */
const ASKED: Record<'one' | 'ten', Partial<Settings>> = {
  one: { ...WARM, ...COOL, mails: 100, notifyBatchesMost: 10 },
  ten: {
    ...COOL,
    publishes: 100_000,
    concurrency: 10_000,
    batchesMost: 1_000,
    tableWrites: 200_000,
    tableReads: 200_000,
    tableQuota: 200_000,
    mails: 500,
    notifyBatchesMost: 50,
  },
};

/** What is tried, in the order of the page. */
export const SCENARIOS: readonly Scenario[] = [
  scenario('100k', '100,000 meters, nothing asked of AWS, first night of the table', 100_000),
  scenario('1m', '1 million, the same', MILLION),
  scenario('1m-cool', '1 million, and no partition gets hot', MILLION, { settings: COOL }),
  scenario('1m-warm', '1 million, table warmed to its quota beforehand', MILLION, {
    settings: { ...COOL, ...WARM },
  }),
  scenario('1m-exact', '1 million, table warmed, all clocks exact', MILLION, {
    settings: { ...COOL, ...WARM },
    reports: { clockSeconds: 0 },
  }),
  scenario('1m-one-zone', '1 million in one zone, table warmed', MILLION, {
    settings: { ...COOL, ...WARM },
    reports: { zones: [{ laterHours: 0, share: 1 }] },
  }),
  scenario('1m-one-company', '1 million of one company, table warmed, one list a partition', MILLION, {
    settings: WARM,
    fleet: { companies: 1 },
  }),
  scenario('1m-connect', '1 million that connect to report', MILLION, {
    settings: { ...COOL, ...WARM, connects: LIMITS.iot.connects.value },
  }),
  scenario('1m-plain-fifo', '1 million, FIFO queue without high throughput', MILLION, {
    settings: { ...COOL, ...WARM, fifoCalls: LIMITS.sqs.fifoCallsPlain.value },
  }),
  scenario('1m-spread', '1 million, nothing asked, each meter waits up to 30 minutes', MILLION, {
    settings: COOL,
    reports: { spreadSeconds: 1_800 },
  }),
  scenario('1m-asked', '1 million with what is to be asked for', MILLION, { settings: ASKED.one }),
  scenario('1m-noon', 'noon of 1 million, if a sweep made its messages in time', MILLION, {
    settings: COOL,
    look: 'noon',
    sweepRate: 5_000,
    fleet: { transitionsALook: 0 },
  }),
  scenario('1m-outage', 'noon at which a tenth of 1 million has fallen silent, 14 mails a second', MILLION, {
    settings: { ...COOL, ...WARM },
    look: 'noon',
    sweepRate: 5_000,
    fleet: { transitionsALook: 0.1 },
  }),
  scenario('10m', '10 million, nothing asked, no partition gets hot', 10 * MILLION, { settings: COOL }),
  scenario('10m-spread', '10 million, nothing asked, each meter waits up to 4 hours', 10 * MILLION, {
    settings: { ...COOL, ...WARM },
    reports: { spreadSeconds: 14_400 },
  }),
  scenario('10m-asked', '10 million with what is to be asked for', 10 * MILLION, { settings: ASKED.ten }),
  scenario('10m-asked-spread', 'the same, each meter waits up to 15 minutes', 10 * MILLION, {
    settings: ASKED.ten,
    reports: { spreadSeconds: 900 },
  }),
];
