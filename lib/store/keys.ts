import type { Key } from './item.ts';
import type { UnitRef } from './store.ts';

/** The partition of everything that is kept of one unit. Ids hold no `#`. */
export function unitPartition({ companyId, unitId }: UnitRef): string {
  return `U#${companyId}#${unitId}`;
}

/** Sort keys within it. What is read at every event, head and record, shares the prefix `#`. */
export const UNIT = { often: '#', head: '#head', record: '#record' } as const;
/** Prefixes of the other sort keys within it. */
export const PREFIX = { fact: 'F#', checkpoint: 'C#', alert: 'A#', month: 'M#', visit: 'V#' } as const;

export function unitKey(unit: UnitRef, sk: string): Key {
  return { pk: unitPartition(unit), sk };
}

export function quarantinePartition(companyId: string): string {
  return `Q#${companyId}`;
}

export function principalKey(name: string): Key {
  return { pk: `P#${name}`, sk: '#' };
}

/** One partition for all companies: they are few, and read seldom. */
export const COMPANIES = 'companies';

export function companyKey(companyId: string): Key {
  return { pk: COMPANIES, sk: companyId };
}

/** Partitions of the index. */
export const LIST = {
  units: (companyId: string) => `units#${companyId}`,
  alerts: (companyId: string, open: boolean) => `alerts-${open ? 'open' : 'over'}#${companyId}`,
} as const;
