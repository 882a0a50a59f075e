/** An invented event, as the OpenAPI document shows one. */
export const eventExample = {
  specversion: '1.0',
  id: 'flow-2026-03-14',
  source: '/companies/fenwick-water/units/u-17',
  type: 'brinebell.flow-day.v1',
  time: '2026-03-15T00:00:00-04:00',
  data: { date: '2026-03-14', volume: { value: 182, unit: '[gal_us]' } },
};

/** An invented record of the registry. */
export const recordExample = {
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
};

/** The same record as CSV. */
export const csvExample = [
  'unit_id,site_id,region,time_zone,installed_on,resin_cft,salt_dose_lb,hardness_gpg,programmed_hardness_gpg,programmed_capacity_grains,regeneration_hour,arrangement,senses',
  'u-17,site-17,alder-county,America/New_York,2026-01-05,1,6,20,20,20000,2,single,salt-level brine-draw',
  '',
].join('\r\n');
