import { CsvError, parse } from 'csv-parse/sync';
import { type ReadRecord, RegistryError } from '../../shared/registry.ts';

type Cell = { text: string } | { number: number } | { words: string[] } | { regions: object[] };
type Reader = (text: string) => Cell | undefined;

/**
 * A cell as it stands, as a decimal number, as words with spaces between, and as former regions; undefined for what is none.
 */
const asText: Reader = (text) => ({ text });
const asNumber: Reader = (text) => {
  const number = Number(text);
  return Number.isFinite(number) ? { number } : undefined;
};
const asWords: Reader = (text) => ({ words: text.split(/[ \t]+/).filter((word) => word !== '') });

/** Such as `north-fork:2025-06-30 mill-valley:2026-02-28`: each with its last local day, the oldest first. */
const asRegions: Reader = (text) => {
  const parts = text.split(/[ \t]+/).map((part) => part.split(':'));
  if (parts.some(({ length }) => length !== 2)) return undefined;
  return { regions: parts.map(([region, until]) => ({ region, until })) };
};

interface Column {
  readonly read: Reader;
  readonly required: boolean;
  /** Where it stands in a record of the contract, and the unit that its header states. */
  readonly path: readonly string[];
  readonly unit?: string;
  /** What is said of a cell that cannot be read; that it is not a number, if left out. */
  readonly form?: string;
}

/** The columns of a registry as CSV. What has a unit says so in its header; the contract's UCUM code follows from it. */
export const COLUMNS: Readonly<Record<string, Column>> = {
  unit_id: { read: asText, required: true, path: ['unitId'] },
  site_id: { read: asText, required: true, path: ['siteId'] },
  region: { read: asText, required: true, path: ['region'] },
  former_regions: {
    read: asRegions,
    required: false,
    path: ['formerRegions'],
    form: 'no list such as north-fork:2025-06-30 mill-valley:2026-02-28',
  },
  round: { read: asText, required: false, path: ['round'] },
  time_zone: { read: asText, required: true, path: ['timeZone'] },
  installed_on: { read: asText, required: true, path: ['installedOn'] },
  resin_cft: { read: asNumber, required: true, path: ['resin'], unit: '[cft_i]' },
  salt_dose_lb: { read: asNumber, required: true, path: ['saltDose'], unit: '[lb_av]' },
  hardness_gpg: { read: asNumber, required: true, path: ['hardness'], unit: '[gr]/[gal_us]' },
  programmed_hardness_gpg: {
    read: asNumber,
    required: true,
    path: ['programmed', 'hardness'],
    unit: '[gr]/[gal_us]',
  },
  programmed_capacity_grains: {
    read: asNumber,
    required: true,
    path: ['programmed', 'capacity'],
    unit: '[gr]',
  },
  regeneration_hour: { read: asNumber, required: true, path: ['programmed', 'regenerationHour'] },
  arrangement: { read: asText, required: true, path: ['arrangement'] },
  iron_mg_per_l: { read: asNumber, required: false, path: ['iron'], unit: 'mg/L' },
  salt_tank_lb: { read: asNumber, required: false, path: ['saltTank'], unit: '[lb_av]' },
  senses: { read: asWords, required: false, path: ['senses'] },
  occupants: { read: asNumber, required: false, path: ['occupants'] },
  site_name: { read: asText, required: false, path: ['site', 'name'] },
  site_address: { read: asText, required: false, path: ['site', 'address'] },
  household_mail: { read: asText, required: false, path: ['household', 'mail'] },
  household_sms: { read: asText, required: false, path: ['household', 'sms'] },
};

/**
 * Turns a registry as CSV (RFC 4180) into the contract's records of one company, still to be judged by their schema.
 * A row that cannot be turned says which column is wrong. An empty cell is a member that is left out.
 *
 * @throws RegistryError if it is no CSV, or if a column is unknown, missing or there twice
 */
export function recordsFromCsv(text: string, companyId: string): ReadRecord[] {
  const [header, ...rows] = rowsOf(text);
  if (!header) return [];
  checkHeader(header);
  return rows.map((row) => recordOf(header, row, companyId));
}

function rowsOf(text: string): string[][] {
  try {
    return parse(text, { bom: true, trim: true, skip_empty_lines: true, relax_column_count: true });
  } catch (error) {
    if (!(error instanceof CsvError)) throw error;
    throw unreadable(`it is no CSV: ${error.message}`);
  }
}

function checkHeader(header: readonly string[]) {
  const unknown = header.filter((name) => !Object.hasOwn(COLUMNS, name));
  const missing = Object.keys(COLUMNS).filter((name) => COLUMNS[name]?.required && !header.includes(name));
  const twice = header.filter((name, index) => header.indexOf(name) !== index);
  const wrong = [
    ...unknown.map((name) => `${JSON.stringify(name.slice(0, 64))} is unknown`),
    ...missing.map((name) => `${name} is missing`),
    ...twice.map((name) => `${name} is there twice`),
  ];
  if (wrong.length > 0) throw unreadable(`of its columns, ${wrong.slice(0, 20).join(', ')}`);
}

function recordOf(header: readonly string[], row: readonly string[], companyId: string): ReadRecord {
  const unitId = row[header.indexOf('unit_id')]?.slice(0, 64);
  if (row.length !== header.length) {
    return { broken: `has ${row.length} cells and not ${header.length} as the header`, unitId };
  }
  const record: Record<string, unknown> = { companyId, senses: [] };
  for (const [index, name] of header.entries()) {
    const column = COLUMNS[name];
    const text = row[index] ?? '';
    if (!column) continue;
    if (text === '' && column.required) return { broken: `${name}: is empty`, unitId };
    if (text === '') continue;
    const cell = column.read(text);
    if (!cell) {
      const form = column.form ?? 'not a number';
      return { broken: `${name}: ${JSON.stringify(text.slice(0, 64))} is ${form}`, unitId };
    }
    const [value] = Object.values(cell);
    const [first = '', second] = column.path;
    const quantity = column.unit === undefined ? value : { value, unit: column.unit };
    record[first] = second === undefined ? quantity : { ...Object(record[first]), [second]: quantity };
  }
  return { value: record };
}

function unreadable(why: string): RegistryError {
  return new RegistryError(
    `the registry cannot be read: ${why}. Its columns are ${Object.keys(COLUMNS).join(', ')}.`,
  );
}
