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
 * Reads a registry: a JSON array, or NDJSON. A bad record is set aside and named; its neighbours stand. Of records
 * that share a unit id none stands if they differ, since nothing tells which is right; the same record twice counts
 * once and is named.
 *
 * @throws RegistryError if the text is neither a JSON array nor NDJSON
 */
export function readRegistry(text: string): Registry {
  const units = new Map<string, Unit>();
  const problems: RegistryProblem[] = [];
  const seen = new Map<string, { record: number; text: string }>();
  recordsOf(text).forEach((raw, index) => {
    const record = index + 1;
    const parsed = unitRecordSchema.safeParse(raw);
    const unitId = unitIdOf(raw);
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
    const same = twin.text === canonical;
    if (!same) units.delete(parsed.data.unitId);
    const verdict = same
      ? 'the same record twice, counted once'
      : 'the two differ, so neither stands: keep one';
    problems.push({
      record,
      unitId,
      message: `duplicate unitId, first in record ${twin.record}: ${verdict}`,
    });
  });
  return { units, problems };
}

function recordsOf(text: string): unknown[] {
  const trimmed = text.replace(/^\uFEFF/, '').trim();
  if (trimmed === '') return [];
  if (trimmed.startsWith('[')) {
    const parsed = parseJson(trimmed, 'the JSON array');
    if (Array.isArray(parsed)) return parsed;
  }
  return trimmed
    .split(/\r?\n/)
    .filter((line) => line.trim() !== '')
    .map((line, index) => parseJson(line, `record ${index + 1}`));
}

function parseJson(text: string, what: string): unknown {
  try {
    return JSON.parse(text);
  } catch (error) {
    throw new RegistryError(`${what} is not JSON: ${error instanceof Error ? error.message : String(error)}`);
  }
}

function unitIdOf(raw: unknown): string | undefined {
  const parsed = z.object({ unitId: z.string() }).safeParse(raw);
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
