import * as z from 'zod';
import { idSchema } from './ids.ts';
import { once } from './once.ts';
import { capacitySchema, hardnessSchema, massSchema } from './quantitySchemas.ts';
import type { LocalDate } from './time/localDate.ts';
import { type Zone, zoneNamed } from './time/zone.ts';
import { toUnit } from './toUnit.ts';
import { firstIssue } from './zodIssue.ts';

/** What a unit's telemetry may carry beside flow days and regenerations. */
export const SENSES = ['salt-level', 'brine-draw', 'peak-flow'] as const;

export type Sense = (typeof SENSES)[number];

/** One record of the registry, as it travels. Members that it does not name are let through. */
export const unitRecordSchema = once(() =>
  z.object({
    unitId: idSchema,
    companyId: idSchema,
    siteId: idSchema,
    region: idSchema,
    /** Where the site was counted before it came to `region`, oldest first; without it, it has always been there. */
    formerRegions: z
      .array(z.object({ region: idSchema, until: z.iso.date('is not a date that exists (YYYY-MM-DD)') }))
      .refine((former) => former.every(({ until }, index) => until > (former[index - 1]?.until ?? '')), {
        error: 'must be ordered by "until", the last local day in each region',
      })
      .optional(),
    /** The round on which salt is brought to the site. */
    round: idSchema.optional(),
    timeZone: z.string().refine((name) => zoneNamed(name) !== undefined, {
      error: ({ input }) => `${input} is not an IANA time zone`,
    }),
    installedOn: z.iso.date('is not a date that exists (YYYY-MM-DD)'),
    resin: z.object({ value: z.number().positive(), unit: z.literal('[cft_i]') }),
    saltDose: massSchema().refine(({ value }) => value > 0, 'must be more than 0'),
    hardness: hardnessSchema(),
    iron: z.object({ value: z.number().min(0), unit: z.literal('mg/L') }).optional(),
    programmed: z.object({
      hardness: hardnessSchema(),
      capacity: capacitySchema(),
      regenerationHour: z.int().min(0).max(23),
    }),
    saltTank: massSchema().optional(),
    arrangement: z.enum(['single', 'alternating']),
    senses: z.array(z.enum(SENSES)),
    occupants: z.int().min(0).optional(),
    /** What people call the place, and where it is. */
    site: z
      .object({ name: z.string().trim().min(1).max(120), address: z.string().max(400).optional() })
      .optional(),
    /** How the household may be asked whether it is away. */
    household: z
      .object({
        mail: z.email().optional(),
        sms: z.e164().optional().describe('A telephone number as ITU-T E.164 has it'),
      })
      .optional(),
  }),
);

export type UnitRecord = z.infer<ReturnType<typeof unitRecordSchema>>;

/** What is programmed on a control. */
export interface Programmed {
  hardnessGpg: number;
  capacityGrains: number;
  regenerationHour: number;
}

/** A region that a site was counted in before, and the last local day of that. */
export interface FormerRegion {
  readonly region: string;
  readonly until: LocalDate;
}

/** One softener of the fleet, in the trade's units. */
export interface Unit {
  unitId: string;
  companyId: string;
  siteId: string;
  region: string;
  /** Oldest first; see `regionAt`. */
  formerRegions: readonly FormerRegion[];
  /** The round on which salt is brought to the site. */
  round?: string | undefined;
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

/** The records of a registry by unit id, as they travel, and those that were set aside. */
export interface Records {
  records: ReadonlyMap<string, UnitRecord>;
  problems: readonly RegistryProblem[];
}

/**
 * Reads a registry, as {@link readRecords} does, into the trade's units.
 *
 * @throws RegistryError if the text begins as a JSON array but is none, or if no line of it is JSON
 */
export function readRegistry(text: string): Registry {
  const { records, problems } = readRecords(text);
  return { units: new Map([...records].map(([unitId, record]) => [unitId, toUnit(record)])), problems };
}

/**
 * Reads a registry: a JSON array, or NDJSON. A bad record, or a line that is not JSON, is set aside and named; its
 * neighbours stand. Of records that share a unit id none stands if they differ, since nothing tells which is right;
 * the same record twice counts once and is named. An empty text is a registry without units.
 *
 * @param companyId the one company whose records are taken; without it, any
 * @throws RegistryError if the text begins as a JSON array but is none, or if no line of it is JSON
 */
export function readRecords(text: string, companyId?: string): Records {
  return judgeRecords(recordsOf(text), companyId);
}

/** One record as it was read: its value, or why it has none. */
export type ReadRecord = { value: unknown } | { broken: string; unitId?: string | undefined };

/** Judges records one by one and against each other, as {@link readRecords} does. */
export function judgeRecords(all: readonly ReadRecord[], companyId?: string): Records {
  const records = new Map<string, UnitRecord>();
  const problems: RegistryProblem[] = [];
  const seen = new Map<string, { record: number; text: string }>();
  all.forEach((read, index) => {
    const record = index + 1;
    if ('broken' in read) {
      problems.push({ record, unitId: read.unitId, message: read.broken });
      return;
    }
    const parsed = unitRecordSchema().safeParse(read.value);
    const unitId = unitIdOf(read.value);
    if (!parsed.success) {
      problems.push({ record, unitId, message: firstIssue(parsed.error) });
      return;
    }
    if (companyId !== undefined && parsed.data.companyId !== companyId) {
      problems.push({ record, unitId, message: `companyId: must be ${companyId}` });
      return;
    }
    const twin = seen.get(parsed.data.unitId);
    const canonical = JSON.stringify(parsed.data);
    if (!twin) {
      seen.set(parsed.data.unitId, { record, text: canonical });
      records.set(parsed.data.unitId, parsed.data);
      return;
    }
    if (twin.text !== canonical) records.delete(parsed.data.unitId);
    const verdict = records.has(parsed.data.unitId)
      ? 'the same record twice, counted once'
      : 'they differ, so none stands: keep one';
    problems.push({
      record,
      unitId,
      message: `duplicate unitId, first in record ${twin.record}: ${verdict}`,
    });
  });
  return { records, problems };
}

function recordsOf(text: string): ReadRecord[] {
  // A byte order mark counts as white space here.
  const trimmed = text.trim();
  if (trimmed.startsWith('[')) {
    const whole = readJson(trimmed);
    if ('broken' in whole) throw unreadable(`the JSON array ${whole.broken}`);
    if (Array.isArray(whole.value)) return whole.value.map((value) => ({ value }));
  }
  const records = trimmed
    .split(/\r?\n/)
    .filter((line) => line.trim() !== '')
    .map(readJson);
  const [first] = records;
  if (first && 'broken' in first && records.every((record) => 'broken' in record)) {
    throw unreadable(`no line of it is JSON; the first ${first.broken}`);
  }
  return records;
}

function readJson(text: string): ReadRecord {
  try {
    return { value: JSON.parse(text) };
  } catch (error) {
    return { broken: `is not JSON: ${error instanceof Error ? error.message : String(error)}` };
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
