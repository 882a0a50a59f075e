import { isDeepStrictEqual } from 'node:util';
import canonicalize from 'canonicalize';
import type { Seeded } from './seeded.ts';
import type { Station } from './station.ts';

/** What a service holds, by the kind of it: named things, so that what is missing can be counted. */
export type Picture = Readonly<Record<string, ReadonlyMap<string, unknown>>>;

const PAGE = { limit: 1000 };

/** Takes down all that a company has in a service. */
export async function pictureOf(station: Station, { companyId, unitIds, meter }: Seeded): Promise<Picture> {
  const { store } = station.service.ports;
  const byUnit = async (read: (ref: { companyId: string; unitId: string }) => Promise<unknown>) =>
    new Map(
      await Promise.all(unitIds.map(async (unitId) => [unitId, await read({ companyId, unitId })] as const)),
    );
  const stored = async (path: string) => (await station.call('GET', path)).trim().split('\n');
  const named = (items: readonly unknown[]) => new Map(items.map((item) => [canonicalize(item) ?? '', item]));
  return {
    'registry records': named(await stored('/v1/backup/units.ndjson')),
    'accepted events, every copy': named(await stored('/v1/backup/events.ndjson')),
    'states of units': await byUnit(async (ref) => {
      const { state, open, knownUntil, place, firstDate } =
        (await store.unit(ref, { fresh: true })).stored?.head ?? {};
      return { state, open, knownUntil, place, firstDate };
    }),
    'alerts, with what people did about them': named(
      (await Promise.all(unitIds.map((unitId) => store.alertsOf({ companyId, unitId })))).flat(),
    ),
    'month accounts': await byUnit((ref) => store.months(ref)),
    'rows of the list of units': named((await store.attention(companyId, PAGE)).items),
    'rules and name': named([await settings(station, companyId)].map(({ name, rules }) => ({ name, rules }))),
    channels: named((await settings(station, companyId)).channels),
    people: named(await store.people(companyId)),
    'planned visits': named(
      (await Promise.all(unitIds.map((unitId) => store.visits({ companyId, unitId })))).flat(),
    ),
    'meters’ passwords': named([await store.principal(meter.username)].filter((each) => each !== undefined)),
    quarantine: named((await store.quarantined(companyId, PAGE)).items),
    'record of acts': named((await store.audited(companyId, PAGE)).items),
  };
}

async function settings({ service }: Station, companyId: string) {
  return (await service.ports.store.company(companyId)) ?? { name: '', rules: {}, channels: [] };
}

/** How much of each kind of one picture is just so in another. */
export function compared(before: Picture, after: Picture): { kind: string; had: number; back: number }[] {
  return Object.entries(before).map(([kind, things]) => {
    const others = after[kind];
    const back = [...things].filter(([name, thing]) => isDeepStrictEqual(others?.get(name), thing));
    return { kind, had: things.size, back: back.length };
  });
}
