import { setTimeout as pause } from 'node:timers/promises';
import { connectAsync, type MqttClient } from 'mqtt';
import { atOnce } from '../../../functions/atOnce.ts';
import type { Ports } from '../../../functions/ports.ts';
import { hashOf, newSecret } from '../../../functions/secrets.ts';
import type { Instant } from '../../../shared/time/instant.ts';
import type { DemoUnit } from './demoUnit.ts';

/** How often the meters look whether it is time to tell something, milliseconds. */
const LOOK_MS = 500;
const CONNECTING_AT_ONCE = 20;

export interface MetersOptions {
  readonly ports: Ports;
  readonly mqttUrl: string;
  readonly units: readonly DemoUnit[];
  /** Told up to when everything has been told and acknowledged. */
  readonly onTold: (until: Instant) => Promise<void>;
}

/**
 * The meters of a demonstration, each on a connection and with a credential of its own, which is new each time. They
 * tell what there is to tell as the clock runs, until their days are over. Returns a function that ends it.
 */
export async function startMeters(options: MetersOptions): Promise<() => Promise<void>> {
  const { ports, mqttUrl, units, onTold } = options;
  const meters = await atOnce(CONNECTING_AT_ONCE, units, async (unit) => ({
    unit,
    client: await connectMeter(ports, mqttUrl, unit),
  }));
  let ended = false;
  const tell = async () => {
    while (!ended && units.some(({ isOver }) => !isOver)) {
      const now = ports.now();
      await Promise.all(meters.map(({ unit, client }) => tellUntil(unit, client, now)));
      await onTold(now);
      await pause(LOOK_MS);
    }
    if (!ended) ports.log.info('the days of the demonstration are over');
  };
  const telling = tell().catch((error) => {
    if (!ended) ports.log.error('the meters of the demonstration stop', error);
  });
  return async () => {
    ended = true;
    await Promise.all(meters.map(({ client }) => client.endAsync(true)));
    await telling;
  };
}

async function connectMeter(ports: Ports, mqttUrl: string, { record }: DemoUnit): Promise<MqttClient> {
  const { companyId, unitId } = record;
  const username = `${companyId}/${unitId}`;
  const password = newSecret();
  await ports.store.putPrincipal({ name: username, companyId, unitId, secretHash: hashOf(password) });
  const client = await connectAsync(mqttUrl, { username, password });
  client.on('error', (error) => ports.log.warn(`${username} of the demonstration: ${error.message}`));
  return client;
}

async function tellUntil(unit: DemoUnit, client: MqttClient, now: Instant): Promise<void> {
  const topic = `units/${unit.record.unitId}/events`;
  await Promise.all(unit.take(now).map(({ text }) => client.publishAsync(topic, text, { qos: 1 })));
}
