import * as z from 'zod';
import type { WireEvent } from '../../../shared/events.ts';
import type { UnitRecord } from '../../../shared/registry.ts';
import { companyService } from '../../../tests/support/companyService.ts';
import { startReceiver } from '../../drill/receiver.ts';
import { startMeters } from './meters.ts';

/** Of one alert; of many units that fell silent together another is sent. */
const noticeSchema = z.object({
  data: z.object({ unitId: z.string(), alert: z.object({ kind: z.string() }) }),
});
const credentialSchema = z.object({ username: z.string(), password: z.string() });
const healthSchema = z.object({
  queues: z.record(z.enum(['ingest', 'assess', 'notify', 'archive']), z.object({ messages: z.int() })),
});
/** Events of one request to the API. */
const MOST_EVENTS = 1_000;
const POLL_MS = 100;

export type LiveService = Awaited<ReturnType<typeof startLive>>;

/** The service of one machine in a folder of its own, with a company, its meters connected over MQTT, and its webhook. */
export async function startLive(companyId: string, records: readonly UnitRecord[]) {
  /** When a webhook told of an alert of a unit first, by unit and kind. */
  const heard = new Map<string, number>();
  const receiver = await startReceiver((body) => {
    const { success, data: notice } = noticeSchema.safeParse(JSON.parse(body));
    if (!success) return;
    const { unitId, alert } = notice.data;
    const name = `${unitId} ${alert.kind}`;
    if (!heard.has(name)) heard.set(name, performance.now());
  });
  const { service, ask, stop } = await companyService(companyId);
  await ask('PUT', '/v1/company', JSON.stringify({ name: companyId, channels: [receiver.channel] }));
  await ask('PUT', '/v1/units', JSON.stringify(records));
  const meters = startMeters(service.mqttUrl);
  await Promise.all(
    records.map(async ({ unitId }) => {
      const made = await ask('POST', `/v1/units/${unitId}/credential`);
      await meters.connect(unitId, credentialSchema.parse(JSON.parse(made)));
    }),
  );
  return {
    store: service.ports.store,
    /** Has a meter publish events one after another; done when the broker has acknowledged the last. */
    publish: (unitId: string, events: readonly WireEvent[]) =>
      meters.publish(
        unitId,
        events.map((event) => JSON.stringify(event)),
      ),
    /** Sends events without meters, many at a time. */
    async send(events: readonly WireEvent[]): Promise<void> {
      for (let from = 0; from < events.length; from += MOST_EVENTS) {
        const lines = events.slice(from, from + MOST_EVENTS).map((event) => JSON.stringify(event));
        await ask('POST', '/v1/events', lines.join('\n'), 'application/x-ndjson');
      }
    },
    /** Waits until all that came is in the units' states; what is gathered for the archive may wait on. */
    async settled(): Promise<void> {
      for (;;) {
        const { queues } = healthSchema.parse(JSON.parse(await ask('GET', '/health')));
        if (queues.ingest.messages + queues.assess.messages === 0) return;
        await new Promise((resolve) => setTimeout(resolve, POLL_MS));
      }
    },
    /** When the company was told of an alert; undefined before. */
    heardAt: (unitId: string, kind: string) => heard.get(`${unitId} ${kind}`),
    async stop(): Promise<void> {
      await meters.stop();
      await stop();
      await receiver.stop();
    },
  };
}
