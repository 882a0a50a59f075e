import type { Key } from './item.ts';
import type { UnitRef } from './store.ts';

/** The partition of everything that is kept of one unit. Ids hold no `#`. */
export function unitPartition({ companyId, unitId }: UnitRef): string {
  return `U#${companyId}#${unitId}`;
}

/** The unit of such a partition. */
export function unitIdOf(partition: string): string {
  return partition.slice(partition.lastIndexOf('#') + 1);
}

/** Sort keys within it. What is read at every event, head and record, shares the prefix `#`. */
export const UNIT = { often: '#', head: '#head', record: '#record' } as const;
/** Prefixes of the other sort keys within it. */
export const PREFIX = { fact: 'F#', checkpoint: 'C#', alert: 'A#', month: 'M#', visit: 'V#' } as const;

/** The sort key of a unit's row among those that need attention. */
export const ATTENTION = 'N#';

/** The sort key of the claim of a unit's meter to a certificate. */
export const CLAIM = 'K#';

export function unitKey(unit: UnitRef, sk: string): Key {
  return { pk: unitPartition(unit), sk };
}

export function quarantinePartition(companyId: string): string {
  return `Q#${companyId}`;
}

export function principalKey(name: string): Key {
  return { pk: `P#${name}`, sk: '#' };
}

export function auditPartition(companyId: string): string {
  return `L#${companyId}`;
}

/** A mail address has an `@`, which the name of no principal has. */
export function personKey(mail: string): Key {
  return { pk: `P#${mail}`, sk: '#' };
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
  attention: (companyId: string) => `attention#${companyId}`,
  people: (companyId: string) => `people#${companyId}`,
  visits: (companyId: string) => `visits#${companyId}`,
} as const;
