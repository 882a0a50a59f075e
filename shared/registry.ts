import * as z from 'zod';
import { idSchema } from './ids.ts';
import { capacitySchema, gpgOf, grainsOf, hardnessSchema, lbOf, massSchema } from './quantity.ts';
import { type LocalDate, parseLocalDate } from './time/localDate.ts';
import { type Zone, zoneNamed } from './time/zone.ts';
import { firstIssue } from './zodIssue.ts';

/** What a unit's telemetry may carry beside flow days and regenerations. */
export const SENSES = ['salt-level', 'brine-draw', 'peak-flow'] as const;

export type Sense = (typeof SENSES)[number];

const positive = z.number().positive();

/** One record of the registry, as it travels. Members that it does not name are let through. */
export const unitRecordSchema = z.object({
  unitId: idSchema,
  companyId: idSchema,
  siteId: idSchema,
  region: idSchema,
  timeZone: z.string().refine((name) => zoneNamed(name) !== undefined, {
    error: ({ input }) => `${input} is not an IANA time zone`,
  }),
  installedOn: z.iso.date('is not a date that exists (YYYY-MM-DD)'),
  resin: z.object({ value: positive, unit: z.literal('[cft_i]') }),
  saltDose: massSchema.refine(({ value }) => value > 0, 'must be more than 0'),
  hardness: hardnessSchema,
  iron: z.object({ value: z.number().min(0), unit: z.literal('mg/L') }).optional(),
  programmed: z.object({
    hardness: hardnessSchema,
    capacity: capacitySchema,
    regenerationHour: z.int().min(0).max(23),
  }),
  saltTank: massSchema.optional(),
  arrangement: z.enum(['single', 'alternating']),
  senses: z.array(z.enum(SENSES)),
  occupants: z.int().min(0).optional(),
});

export type UnitRecord = z.infer<typeof unitRecordSchema>;

/** What is programmed on a control. */
export interface Programmed {
  hardnessGpg: number;
  capacityGrains: number;
  regenerationHour: number;
}

/** One softener of the fleet, in the trade's units. */
export interface Unit {
  unitId: string;
  companyId: string;
  siteId: string;
  region: string;
  zone: Zone;
  installedOn: LocalDate;
  resinCubicFeet: number;
  saltDoseLb: number;
  hardnessGpg: number;
  ironMgPerL: number;
  programmed: Programmed;
  saltTankLb?: number | undefined;
  alternating: boolean;
  senses: readonly Sense[];
  occupants?: number | undefined;
}

/** A record that was set aside: where it stands (from 1), whose it is as far as it says, and what to mend. */
export interface RegistryProblem {
  record: number;
  unitId?: string | undefined;
  message: string;
}

/** The units of a registry by id, and the records that were set aside. */
export interface Registry {
  units: ReadonlyMap<string, Unit>;
  problems: readonly RegistryProblem[];
}

/** Thrown where a registry as a whole cannot be read. */
export class RegistryError extends Error {
  readonly code = 'registry-unreadable';
}

/**
 * Reads a registry: a JSON array, or NDJSON. A bad record, or a line that is not JSON, is set aside and named; its
 * neighbours stand. Of records that share a unit id none stands if they differ, since nothing tells which is right;
 * the same record twice counts once and is named. An empty text is a registry without units.
 *
 * @throws RegistryError if the text begins as a JSON array but is none, or if no line of it is JSON
 */
export function readRegistry(text: string): Registry {
  const units = new Map<string, Unit>();
  const problems: RegistryProblem[] = [];
  const seen = new Map<string, { record: number; text: string }>();
  recordsOf(text).forEach((read, index) => {
    const record = index + 1;
    if ('broken' in read) {
      problems.push({ record, message: `is not JSON: ${read.broken}` });
      return;
    }
    const parsed = unitRecordSchema.safeParse(read.value);
    const unitId = unitIdOf(read.value);
    if (!parsed.success) {
      problems.push({ record, unitId, message: firstIssue(parsed.error) });
      return;
    }
    const twin = seen.get(parsed.data.unitId);
    const canonical = JSON.stringify(parsed.data);
    if (!twin) {
      seen.set(parsed.data.unitId, { record, text: canonical });
      units.set(parsed.data.unitId, toUnit(parsed.data));
      return;
    }
    if (twin.text !== canonical) units.delete(parsed.data.unitId);
    const verdict = units.has(parsed.data.unitId)
      ? 'the same record twice, counted once'
      : 'they differ, so none stands: keep one';
    problems.push({
      record,
      unitId,
      message: `duplicate unitId, first in record ${twin.record}: ${verdict}`,
    });
  });
  return { units, problems };
}

/** One record as it was read: its value, or why it is not JSON. */
type Read = { value: unknown } | { broken: string };

function recordsOf(text: string): Read[] {
  // A byte order mark counts as white space here.
  const trimmed = text.trim();
  if (trimmed.startsWith('[')) {
    const whole = readJson(trimmed);
    if ('broken' in whole) throw unreadable(`the JSON array is not JSON: ${whole.broken}`);
    if (Array.isArray(whole.value)) return whole.value.map((value) => ({ value }));
  }
  const records = trimmed
    .split(/\r?\n/)
    .filter((line) => line.trim() !== '')
    .map(readJson);
  const [first] = records;
  if (first && 'broken' in first && records.every((record) => 'broken' in record)) {
    throw unreadable(`no line of it is JSON; the first: ${first.broken}`);
  }
  return records;
}

function readJson(text: string): Read {
  try {
    return { value: JSON.parse(text) };
  } catch (error) {
    return { broken: error instanceof Error ? error.message : String(error) };
  }
}

function unreadable(why: string): RegistryError {
  return new RegistryError(
    `the registry cannot be read: ${why}. Give it as a JSON array of unit records, or as one record a line.`,
  );
}

const named = z.object({ unitId: z.string() });

function unitIdOf(raw: unknown): string | undefined {
  const parsed = named.safeParse(raw);
  return parsed.success ? parsed.data.unitId.slice(0, 64) : undefined;
}

function toUnit(record: UnitRecord): Unit {
  const zone = zoneNamed(record.timeZone);
  const installedOn = parseLocalDate(record.installedOn);
  if (!zone || installedOn === undefined)
    throw new RangeError('a registry record must pass its schema first');
  return {
    unitId: record.unitId,
    companyId: record.companyId,
    siteId: record.siteId,
    region: record.region,
    zone,
    installedOn,
    resinCubicFeet: record.resin.value,
    saltDoseLb: lbOf(record.saltDose),
    hardnessGpg: gpgOf(record.hardness),
    ironMgPerL: record.iron?.value ?? 0,
    programmed: {
      hardnessGpg: gpgOf(record.programmed.hardness),
      capacityGrains: grainsOf(record.programmed.capacity),
      regenerationHour: record.programmed.regenerationHour,
    },
    saltTankLb: record.saltTank && lbOf(record.saltTank),
    alternating: record.arrangement === 'alternating',
    senses: record.senses,
    occupants: record.occupants,
  };
}
