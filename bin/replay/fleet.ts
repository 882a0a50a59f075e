import type { Registry, Unit } from '../../shared/registry.ts';

/** The units of a registry in its order, by id, and by their place in it. */
export interface Fleet {
  units: readonly Unit[];
  byId: ReadonlyMap<string, Unit>;
  places: ReadonlyMap<Unit, number>;
}

/** The units of a registry that stand. */
export function fleetOf(byId: Registry['units']): Fleet {
  const units = [...byId.values()];
  return { units, byId, places: new Map(units.map((unit, place) => [unit, place])) };
}
