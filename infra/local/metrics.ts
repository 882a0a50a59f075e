import { Counter, Gauge, Histogram, type OpenMetricsContentType, Registry } from 'prom-client';
import { COUNTERS, type Counter as Counted, type Meter } from '../../functions/ports.ts';
import type { Broker } from './broker.ts';
import type { LocalQueue } from './queue.ts';
import { allOf, type Queues } from './queues.ts';
import type { TableOptions } from './table.ts';

/** What each counter counts, and by what it is told apart. */
const COUNTED: Readonly<Record<Counted, { help: string; labelNames: readonly string[] }>> = {
  events_received: { help: 'Lines taken from the queue', labelNames: [] },
  events_accepted: { help: 'Events stored as facts', labelNames: [] },
  events_quarantined: { help: 'Lines set aside, by the reason', labelNames: ['reason'] },
  units_assessed: { help: 'Times that a unit was folded on', labelNames: [] },
  alert_transitions: { help: 'Changes of alerts', labelNames: ['kind', 'change'] },
  notices_sent: { help: 'Notices that a channel has taken', labelNames: ['channel'] },
  notices_failed: { help: 'Notices that a channel has refused', labelNames: ['channel'] },
  notices_shelved: { help: 'Notices of shelved alerts, which nobody was sent', labelNames: [] },
};

/** From a hundredth of a second to an hour. */
const SECONDS = [0.01, 0.03, 0.1, 0.3, 1, 3, 10, 30, 100, 300, 1000, 3600];

/** What is measured of the service, as OpenMetrics. */
export class Metrics implements Meter {
  readonly #registry = new Registry<OpenMetricsContentType>();
  readonly #counters: Readonly<Record<string, Counter>>;
  readonly #capacity: Counter;
  readonly #through: Histogram;

  constructor() {
    this.#registry.setContentType(Registry.OPENMETRICS_CONTENT_TYPE);
    const registers = [this.#registry];
    this.#counters = Object.fromEntries(
      COUNTERS.map((name) => [name, new Counter({ name: `brinebell_${name}`, registers, ...COUNTED[name] })]),
    );
    this.#capacity = new Counter({
      name: 'brinebell_table_units',
      help: 'Capacity units of the table, by the operation and whether it reads or writes',
      labelNames: ['operation', 'kind'],
      registers,
    });
    this.#through = new Histogram({
      name: 'brinebell_queue_seconds',
      help: 'From when a message was sent to when it was handled',
      labelNames: ['queue'],
      buckets: SECONDS,
      registers,
    });
  }

  count(counter: Counted, by: number, labels: Readonly<Record<string, string>> = {}): void {
    const known = COUNTED[counter].labelNames;
    this.#counters[counter]?.inc(
      Object.fromEntries(Object.entries(labels).filter(([name]) => known.includes(name))),
      by,
    );
  }

  readonly consumed: TableOptions['onCapacity'] = (operation, { read, write }) => {
    if (read > 0) this.#capacity.inc({ operation, kind: 'read' }, read);
    if (write > 0) this.#capacity.inc({ operation, kind: 'write' }, write);
  };

  /** Notes that messages of a queue were handled, so many seconds after they were sent. */
  handled(queue: string, seconds: number): void {
    this.#through.observe({ queue }, seconds);
  }

  /** Measures how full the queues are and how many meters are connected, whenever it is asked. */
  watch(queues: Queues, broker: Broker, now: () => number): void {
    const all = allOf(queues);
    const gauge = (name: string, help: string, value: (queue: LocalQueue) => number | Promise<number>) =>
      new Gauge({
        name: `brinebell_${name}`,
        help,
        labelNames: ['queue'],
        registers: [this.#registry],
        async collect() {
          for (const queue of all) this.set({ queue: queue.name }, await value(queue));
        },
      });
    gauge('queue_messages', 'Messages that wait or are being handled', ({ depth }) => depth);
    gauge('dead_letters', 'Messages that were given up', ({ dead }) => dead.size);
    gauge('queue_oldest_seconds', 'Age of the oldest message; 0 if there is none', async (queue) => {
      const oldest = await queue.oldest();
      return oldest === undefined ? 0 : Math.max(0, now() - oldest) / 1000;
    });
    new Gauge({
      name: 'brinebell_meters_connected',
      help: 'Meters that are connected',
      registers: [this.#registry],
      collect() {
        this.set(broker.connected());
      },
    });
  }

  async text(): Promise<{ contentType: string; text: string }> {
    return { contentType: this.#registry.contentType, text: await this.#registry.metrics() };
  }
}
