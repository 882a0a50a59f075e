import { FUNCTIONS, QUEUES } from '../../infra/topology.ts';
import { keysOf } from '../../shared/records.ts';
import { batchSeconds } from './batchSeconds.ts';
import type { Bill } from './bill.ts';
import { silenceReads, sweepReach, sweepSeconds } from './bounds.ts';
import type { Drivers } from './drivers.ts';
import type { Measured } from './measured.ts';
import { PRICES, SEEN_ON } from './prices.ts';
import type { Change } from './sensitivity.ts';
import { clock, table, whole } from './tell.ts';
import { capacityOf } from './usage.ts';

/** The bills by service, in Markdown. */
export function tellBills(fleets: readonly { meters: number; drivers: Drivers; bill: Bill }[]): string {
  const services = fleets[0] ? keysOf(fleets[0].bill.services) : [];
  const usd = (value: number) =>
    value.toLocaleString('en-US', { maximumFractionDigits: value < 100 ? 2 : 0 });
  const rows = services.map((service) => [service, ...fleets.map(({ bill }) => usd(bill.services[service]))]);
  return [
    `US dollars a month, us-east-1, prices as of ${SEEN_ON}, nothing free`,
    '',
    table(
      ['service', ...fleets.map(({ meters }) => `${whole(meters)} meters`)],
      [
        ...rows,
        ['all', ...fleets.map(({ bill }) => usd(bill.total))],
        ['a meter, cents', ...fleets.map(({ meters, bill }) => ((100 * bill.total) / meters).toFixed(3))],
      ],
    ),
  ].join('\n');
}

/** What moves the bill, in Markdown. */
export function tellChanges(meters: number, changes: readonly Change[]): string {
  const percent = (value: number) => (value === 0 ? '' : `${value > 0 ? '+' : ''}${value.toFixed(1)} %`);
  return table(
    [`what moves the bill of ${whole(meters)} meters`, 'less', 'more'],
    changes.map(({ name, less, more }) => [name, percent(less), percent(more)]),
  );
}

/** What needs no simulation. */
export function tellBounds(measured: Measured): string {
  const { write, read } = capacityOf(measured, { openShare: 0.05 });
  const lines = [
    `capacity units a unit-day: ${write.toFixed(2)} write, ${read.toFixed(2)} read, 5 % of the units with an open alert`,
    `the sweep gets through ${whole(sweepReach(measured, 0.48, 1024))} units of a company of which it is noon for 48 % in its ${FUNCTIONS.sweep.timeoutSeconds} s; a million would take ${clock(sweepSeconds(measured, 1e6, 0.48, 1024))}`,
    `100,000 meters of one company silent at once: ${whole(silenceReads(100_000) / 1e6)} million read units ($${((silenceReads(100_000) / PRICES.dynamodbReads.per) * PRICES.dynamodbReads.usd).toFixed(2)}) to tell of them`,
  ];
  const memory = [256, 512, 1024, 1769].map((memoryMb) => {
    const cost = (times: 'ingest' | 'assess', messages: number) => {
      const seconds = batchSeconds(measured.handlers[times], messages, { memoryMb, sendMs: 10 });
      const usd = ((seconds * memoryMb) / 1024 / messages) * 1e6 * PRICES.lambdaSeconds.usd;
      return [`${Math.round(seconds * 1000)} ms`, `$${usd.toFixed(2)}`];
    };
    return [
      `${memoryMb} MB`,
      ...cost('ingest', QUEUES.ingest.batchSize),
      ...cost('assess', QUEUES.assess.batchSize),
    ];
  });
  return [
    ...lines.map((line) => `- ${line}`),
    '',
    table(['memory', 'ingest, full batch', 'a million messages', 'assess, full batch', 'a million'], memory),
  ].join('\n');
}
