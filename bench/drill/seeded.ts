import { planFleet } from '../../lib/simulation/plan.ts';
import { simulateUnit } from '../../lib/simulation/simulate.ts';
import type { Station } from './station.ts';

const DAY = 86_400_000;

/** What is put into a service before it is lost. */
export interface Seeded {
  readonly companyId: string;
  readonly unitIds: readonly string[];
  /** A meter that has a password, and what it is. */
  readonly meter: { readonly username: string; readonly password: string };
  /** Lines that were sent in. */
  readonly lines: number;
}

/** A fleet whose history ends yesterday, with faults, people, visits, and something of all else that is kept. */
export async function seed(
  station: Station,
  { units, days, channel }: { units: number; days: number; channel: object },
): Promise<Seeded> {
  const start = Math.floor(Date.now() / DAY) - days - 1;
  const faults = { 'meter-stalled': 0.2, 'tank-empty': 0.2, 'capacity-setting': 0.2 };
  const fleet = planFleet({ units, days, start, seed: 11, faults }).map(simulateUnit);
  const companyId = fleet[0]?.record.companyId ?? '';
  await station.makeCompany(companyId);
  await station.send('PUT', '/v1/units', fleet.map(({ record }) => JSON.stringify(record)).join('\n'));
  const lines = [
    ...fleet.flatMap(({ events }) => events.map((event) => JSON.stringify(event))),
    ...['no JSON', '{}', '{"specversion":"1.0"}'],
  ];
  await station.sendAll('POST', '/v1/events', lines);
  await station.settled();

  const unitIds = fleet.map(({ record }) => record.unitId);
  const [first = '', second = ''] = unitIds;
  const put = (path: string, body: object) => station.call('PUT', path, JSON.stringify(body));
  await put('/v1/people/dana', { mail: 'dana@drill.example', name: 'Dana Reyes', role: 'owner' });
  await put('/v1/people/tomas', { mail: 'tomas@drill.example', name: 'Tomas Lindqvist', role: 'technician' });
  await put('/v1/company', { name: 'Drill Water', channels: [channel], rules: { overrun: { raise: 0.97 } } });
  await station.settled();
  const date = new Date(Date.now() + 3 * DAY).toISOString().slice(0, 10);
  for (const unitId of [first, second]) {
    const visit = { technician: 'tomas', date, reason: 'Drill: look at the meter' };
    await station.call('POST', `/v1/units/${unitId}/visits`, JSON.stringify(visit));
  }
  const open = JSON.parse(await station.call('GET', '/v1/alerts'));
  for (const { unitId, alertId } of open.items.slice(0, 2)) {
    const path = `/v1/units/${unitId}/alerts/${alertId}/acknowledgement`;
    await station.call('PUT', path, JSON.stringify({ by: 'Dana' }));
  }
  await station.settled();
  const meter = JSON.parse(await station.call('POST', `/v1/units/${first}/credential`));
  return { companyId, unitIds, meter, lines: lines.length };
}
