import { service } from '../../api/client.ts';
import type { Target, TargetAlert, TargetVisit } from './target.ts';

/** What was done, in a sentence, and how to take it back; an act that cannot be taken back has no `undo`. */
export interface Done {
  readonly text: string;
  readonly undo?: () => Promise<Done>;
}

type OnAlert = Target & { readonly alert: TargetAlert };

const ALERT = '/v1/units/{unitId}/alerts/{alertId}';

export async function acknowledge({ unitId, site, alert }: OnAlert): Promise<Done> {
  const params = { path: { unitId, alertId: alert.alertId } };
  await service.PUT(`${ALERT}/acknowledgement`, { params, body: {} });
  return {
    text: `Acknowledged: ${site}.`,
    undo: () => unacknowledge({ unitId, site, alert }),
  };
}

export async function unacknowledge({
  unitId,
  site,
  alert,
}: Pick<OnAlert, 'unitId' | 'site' | 'alert'>): Promise<Done> {
  await service.DELETE(`${ALERT}/acknowledgement`, { params: { path: { unitId, alertId: alert.alertId } } });
  return { text: `No longer acknowledged: ${site}.` };
}

/** @param until RFC 3339 */
export async function shelve({ unitId, site, alert }: OnAlert, until: string, words: string): Promise<Done> {
  const params = { path: { unitId, alertId: alert.alertId } };
  await service.PUT(`${ALERT}/shelving`, { params, body: { until } });
  return { text: `Shelved until ${words}: ${site}.`, undo: () => unshelve({ unitId, site, alert }) };
}

export async function unshelve({
  unitId,
  site,
  alert,
}: Pick<OnAlert, 'unitId' | 'site' | 'alert'>): Promise<Done> {
  await service.DELETE(`${ALERT}/shelving`, { params: { path: { unitId, alertId: alert.alertId } } });
  return { text: `Taken off the shelf: ${site}.` };
}

/** Between two local dates of the site, both of them included. It cannot be taken back, only contradicted. */
export async function sayAway({ unitId, site }: Target, from: string, to: string): Promise<Done> {
  await service.POST('/v1/units/{unitId}/away', { params: { path: { unitId } }, body: { from, to } });
  return { text: `The household of ${site} is noted as away.` };
}

export async function sayAtHome({ unitId, site }: Target, from: string, to: string): Promise<Done> {
  await service.POST('/v1/units/{unitId}/at-home', { params: { path: { unitId } }, body: { from, to } });
  return { text: `The household of ${site} is noted as at home.` };
}

/** @param until RFC 3339; without it, until somebody returns it to service */
export async function takeOutOfService({ unitId, site }: Target, until: string | undefined): Promise<Done> {
  const params = { path: { unitId } };
  await service.PUT('/v1/units/{unitId}/out-of-service', {
    params,
    body: until === undefined ? {} : { until },
  });
  return { text: `Out of service: ${site}.`, undo: () => returnToService({ unitId, site }) };
}

export async function returnToService({ unitId, site }: Pick<Target, 'unitId' | 'site'>): Promise<Done> {
  await service.DELETE('/v1/units/{unitId}/out-of-service', { params: { path: { unitId } } });
  return { text: `Back in service: ${site}.` };
}

type Plan = Omit<TargetVisit, 'visitId'>;

export async function planVisit(
  { unitId, site }: Pick<Target, 'unitId' | 'site'>,
  plan: Plan,
): Promise<Done> {
  const { technician, technicianName, date, day, reason } = plan;
  const { data } = await service.POST('/v1/units/{unitId}/visits', {
    params: { path: { unitId } },
    body: { technician, date, reason },
  });
  const text = `Visit planned: ${technicianName} to ${site}, ${day}.`;
  if (!data) return { text };
  const { visitId } = data;
  return { text, undo: () => dropVisit({ unitId, site }, { ...plan, visitId }) };
}

/** Undone, it is planned anew: the technician hears of it again. */
export async function dropVisit(
  { unitId, site }: Pick<Target, 'unitId' | 'site'>,
  { visitId, ...plan }: TargetVisit,
): Promise<Done> {
  await service.DELETE('/v1/units/{unitId}/visits/{visitId}', { params: { path: { unitId, visitId } } });
  return { text: `The visit to ${site} is off.`, undo: () => planVisit({ unitId, site }, plan) };
}
