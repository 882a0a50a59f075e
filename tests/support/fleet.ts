import { type Registry, readRegistry } from '../../shared/registry.ts';

/** A registry record of an invented unit, as it travels. */
export function unitRecord(over: Record<string, unknown> = {}) {
  return {
    unitId: 'u-17',
    companyId: 'fenwick-water',
    siteId: 'site-17',
    region: 'alder-county',
    timeZone: 'America/New_York',
    installedOn: '2026-01-05',
    resin: { value: 1, unit: '[cft_i]' },
    saltDose: { value: 6, unit: '[lb_av]' },
    hardness: { value: 20, unit: '[gr]/[gal_us]' },
    programmed: {
      hardness: { value: 20, unit: '[gr]/[gal_us]' },
      capacity: { value: 20_000, unit: '[gr]' },
      regenerationHour: 2,
    },
    arrangement: 'single',
    senses: ['salt-level', 'brine-draw'],
    ...over,
  };
}

/** A registry of such records. */
export function registryOf(...records: unknown[]): Registry {
  return readRegistry(JSON.stringify(records));
}
