import { stringify } from 'csv-stringify/browser/esm/sync';
import type { WhatIfResult } from '../../api/types.ts';

type Visit = WhatIfResult['visits'][number];

/**
 * The visits as RFC 4180 CSV, in US units, in the order given; amounts are of a year, low and high of 80 % intervals. What
 * people wrote is kept from being worked out by a spreadsheet.
 */
export function visitsCsv(visits: readonly Visit[]): string {
  return stringify(visits.map(rowOf), {
    header: true,
    columns: COLUMNS,
    record_delimiter: 'windows',
    escape_formulas: true,
  });
}

function rowOf({ unitId, siteName, region, cause, probability, programmed, set, saves, alertId }: Visit) {
  // Numbers, since a text that begins with a minus would be taken for a formula.
  const decimal = (value: number) => Number(value.toFixed(1));
  const estimate = (name: string, { value, low, high }: Visit['saves']['saltLb']) => ({
    [name]: decimal(value),
    [`${name}_low`]: decimal(low),
    [`${name}_high`]: decimal(high),
  });
  return {
    unit_id: unitId,
    site_name: siteName,
    region,
    cause,
    probability_wrong: Number(probability.toFixed(3)),
    programmed_capacity_grains: programmed.capacityGrains,
    programmed_hardness_gpg: programmed.hardnessGpg,
    set_capacity_grains: set.capacityGrains,
    set_hardness_gpg: set.hardnessGpg,
    ...estimate('salt_saved_lb_a_year', saves.saltLb),
    ...estimate('chloride_saved_lb_a_year', saves.chlorideLb),
    ...estimate('water_saved_gal_a_year', saves.waterGallons),
    ...estimate('hard_days_avoided_a_year', saves.hardDays),
    open_alert: alertId,
  };
}

const withBounds = (name: string) => [name, `${name}_low`, `${name}_high`];

const COLUMNS = [
  'unit_id',
  'site_name',
  'region',
  'cause',
  'probability_wrong',
  'programmed_capacity_grains',
  'programmed_hardness_gpg',
  'set_capacity_grains',
  'set_hardness_gpg',
  ...withBounds('salt_saved_lb_a_year'),
  ...withBounds('chloride_saved_lb_a_year'),
  ...withBounds('water_saved_gal_a_year'),
  ...withBounds('hard_days_avoided_a_year'),
  'open_alert',
];
