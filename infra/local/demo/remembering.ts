import type { Store, StoredFact } from '../../../lib/store/store.ts';

/**
 * A store for whoever writes the facts of a unit and reads them again at once: what was put is remembered, so that it
 * need not be read one by one. It is right only while nobody else writes facts of the unit; `forget` ends that.
 */
export function remembering(store: Store): { store: Store; forget(): void } {
  const byId = new Map<string, StoredFact[]>();
  return {
    store: {
      ...store,
      async putFacts(ofUnits) {
        await store.putFacts(ofUnits);
        for (const fact of ofUnits.flatMap(({ facts }) => facts)) {
          const id: unknown = JSON.parse(fact.line).id;
          const copies = byId.get(String(id)) ?? [];
          if (!copies.some(({ key }) => key === fact.key)) copies.push(fact);
          byId.set(String(id), copies);
        }
      },
      async copies(_unit, wanted) {
        return wanted.map(({ id }) => byId.get(id) ?? []);
      },
    },
    forget: () => byId.clear(),
  };
}
