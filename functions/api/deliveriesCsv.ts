import { stringify } from 'csv-stringify/sync';
import type { ByRate } from '../../lib/salt/deliveries/delivery.ts';
import type { DatedHouse } from '../../lib/salt/deliveries/deliveryPlan.ts';
import { formatLocalDate, type LocalDate } from '../../shared/time/localDate.ts';
import type { CompanyDeliveries, HouseFacts } from '../companyDeliveries.ts';

/** A row as it is written; weights are in lb, dates local to the site. */
type Row = Readonly<Record<string, string | number | null>>;

const COLUMNS = [
  'week',
  'deliver_by',
  'region',
  'round',
  'unit_id',
  'site_id',
  'site_name',
  'site_address',
  'bags',
  'salt_lb',
  'runs_out_p10',
  'runs_out_p50',
  'runs_out_p90',
  'level_lb',
  'level_deviation_lb',
  'room_lb',
  'uses_lb_per_week',
  'uses_bags_per_week',
  'bag_lb',
  'level_known_by',
  'is_empty',
  'last_reported',
  'visit_planned_on',
  'visit_technician',
] as const;

/**
 * Writes deliveries as RFC 4180 CSV: a row a house, by its day, and after them those without a date that are counted by
 * rate: in no week, so that they have no bags to bring, but bags that they use a week. Week 0 is late already. What people wrote is kept from being worked out by a spreadsheet.
 */
export function deliveriesCsv({ plan, factsOf }: CompanyDeliveries, bagLb: number): string {
  const rows: Row[] = [
    ...plan.houses.map((house) => houseRow(house, factsOf(house.unitId), bagLb)),
    ...plan.byRate.map((house) => rateRow(house, factsOf(house.unitId), bagLb)),
  ];
  return stringify(rows, {
    header: true,
    columns: [...COLUMNS],
    record_delimiter: 'windows',
    escape_formulas: true,
  });
}

function houseRow(house: DatedHouse, facts: HouseFacts, bagLb: number): Row {
  const { p10, p50, p90 } = house.runsOut;
  return {
    ...placeOf(house, facts, bagLb),
    week: house.week,
    deliver_by: dated(house.by),
    bags: house.bags,
    salt_lb: tenths(house.bags * bagLb),
    runs_out_p10: dated(p10),
    runs_out_p50: dated(p50),
    runs_out_p90: dated(p90),
    level_lb: tenths(house.levelLb),
    level_deviation_lb: tenths(house.levelDeviationLb),
    room_lb: house.roomLb === null ? null : tenths(house.roomLb),
    level_known_by: house.levelBy,
    is_empty: String(house.isEmpty),
  };
}

function rateRow(house: ByRate, facts: HouseFacts, bagLb: number): Row {
  return { ...placeOf(house, facts, bagLb), level_known_by: house.why };
}

function placeOf(house: DatedHouse | ByRate, facts: HouseFacts, bagLb: number): Row {
  const [visit] = facts.visits;
  return {
    region: house.region,
    round: house.round,
    unit_id: house.unitId,
    site_id: facts.siteId,
    site_name: facts.siteName,
    site_address: facts.address,
    uses_lb_per_week: tenths(house.lbPerWeek),
    uses_bags_per_week: Math.round((house.lbPerWeek / bagLb) * 100) / 100,
    bag_lb: bagLb,
    last_reported: dated(facts.lastReported),
    visit_planned_on: visit?.date ?? null,
    visit_technician: visit?.technician ?? null,
  };
}

function dated(date: LocalDate | null): string | null {
  return date === null ? null : formatLocalDate(date);
}

function tenths(value: number): number {
  return Math.round(value * 10) / 10;
}
