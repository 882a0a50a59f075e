import { recordExample } from '../../functions/api/examples.ts';
import { type Registry, readRegistry } from '../../shared/registry.ts';

/** A registry record of an invented unit, as it travels. */
export function unitRecord(over: Record<string, unknown> = {}) {
  return { ...recordExample, ...over };
}

/** A registry of such records. */
export function registryOf(...records: unknown[]): Registry {
  return readRegistry(JSON.stringify(records));
}
