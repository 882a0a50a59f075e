import type { components } from '../api/generated/api.d.ts';

type Told = components['schemas']['RegionMonth'];

/** What one region, or several together, did in one month. US units; salt as it was measured and as it was inferred. */
export interface MonthSum {
  /** `YYYY-MM`. */
  readonly month: string;
  readonly units: number;
  /** Days of units that a report came of, and days that none came of though one was owed. */
  readonly daysReported: number;
  readonly daysMissing: number;
  readonly regenerations: number;
  readonly waterGallons: number;
  readonly saltMeasuredLb: number;
  readonly saltInferredLb: number;
  readonly chlorideLb: number;
  readonly regenerationGallons: number;
  readonly grains: number;
}

export interface RegionSums {
  readonly region: string;
  /** By month, the earliest first. */
  readonly months: readonly MonthSum[];
}

/** The regions of an answer, each with its months. */
export function regionsOf(rows: readonly Told[]): readonly RegionSums[] {
  const regions = new Map<string, MonthSum[]>();
  for (const row of rows) {
    const months = regions.get(row.region) ?? [];
    months.push(sumOf(row));
    regions.set(row.region, months);
  }
  return [...regions].map(([region, months]) => ({ region, months: months.sort(byMonth) }));
}

/** Several regions as if they were one. */
export function together(regions: readonly RegionSums[]): readonly MonthSum[] {
  const months = new Map<string, MonthSum>();
  for (const sum of regions.flatMap((each) => each.months)) {
    const known = months.get(sum.month);
    months.set(sum.month, known ? add(known, sum) : sum);
  }
  return [...months.values()].sort(byMonth);
}

/** All months that occur, the earliest first. */
export function monthNames(regions: readonly RegionSums[]): readonly string[] {
  return [...new Set(regions.flatMap(({ months }) => months.map(({ month }) => month)))].sort();
}

/** The same month of the year before, `YYYY-MM`. */
export function yearBefore(month: string): string {
  return `${String(Number(month.slice(0, 4)) - 1).padStart(4, '0')}${month.slice(4)}`;
}

function sumOf(row: Told): MonthSum {
  return {
    month: row.month,
    units: row.units_reporting,
    daysReported: row.unit_days,
    daysMissing: row.unit_days_missing,
    regenerations: row.regenerations,
    waterGallons: row.water_treated_gal,
    saltMeasuredLb: row.salt_used_lb * (row.salt_measured_share ?? 0),
    saltInferredLb: row.salt_used_lb * (row.salt_inferred_share ?? 0),
    chlorideLb: row.chloride_lb,
    regenerationGallons: row.regeneration_water_gal,
    grains: row.grains_removed,
  };
}

function add(a: MonthSum, b: MonthSum): MonthSum {
  return {
    month: a.month,
    units: a.units + b.units,
    daysReported: a.daysReported + b.daysReported,
    daysMissing: a.daysMissing + b.daysMissing,
    regenerations: a.regenerations + b.regenerations,
    waterGallons: a.waterGallons + b.waterGallons,
    saltMeasuredLb: a.saltMeasuredLb + b.saltMeasuredLb,
    saltInferredLb: a.saltInferredLb + b.saltInferredLb,
    chlorideLb: a.chlorideLb + b.chlorideLb,
    regenerationGallons: a.regenerationGallons + b.regenerationGallons,
    grains: a.grains + b.grains,
  };
}

function byMonth(a: MonthSum, b: MonthSum): number {
  return a.month < b.month ? -1 : 1;
}
