import * as z from 'zod';
import { ALERT_KINDS, CAUSES, SEVERITIES } from '../../shared/alerts.ts';
import { idSchema } from '../../shared/ids.ts';
import { keysOf } from '../../shared/records.ts';
import { instantSchema } from '../../shared/time/instantSchema.ts';
import { CHECKS } from '../advice/checks.ts';

const date = z.iso.date();
const share = z.number().min(0).max(1);
const cause = z.enum([...new Set(Object.values(CAUSES).flat())]);
const kind = z.enum(ALERT_KINDS);

/** Names of the settings that a brief speaks of. */
const SETTINGS = ['capacityGrains', 'hardnessGpg', 'saltDoseLb', 'regenerationHour'] as const;

/** What is to be written down at a visit. */
const RECORD_ITEMS = [
  'findings',
  'work',
  'parts',
  'salt-added',
  'raw-hardness',
  'cold-hardness',
  'hot-hardness',
  'settings-read-back',
] as const;

/** What a technician is told before a visit to a unit. Everything is in the trade's units, named by its member. */
export const briefSchema = z.object({
  unitId: idSchema,
  siteId: idSchema,
  siteName: z.string().nullable(),
  address: z.string().nullable(),
  region: idSchema,
  timeZone: z.string(),
  companyName: z.string(),
  at: instantSchema.describe('When it was made'),
  today: date.describe('Of the site'),
  lastReported: date.nullable(),
  softener: z.object({
    resinCubicFeet: z.number(),
    saltDoseLb: z.number(),
    compensatedHardnessGpg: z.number(),
    saltInTankLb: z.number().nullable().describe('By the level sensor; null where none tells'),
    saltTankLb: z.number().nullable().describe('What the tank holds'),
    saltRunsOut: date.nullable(),
  }),
  visit: z
    .object({ visitId: idSchema, technician: z.string(), date, reason: z.string() })
    .nullable()
    .describe('The visit that is planned; its technician by name where there is one of that id'),
  why: z.array(
    z.object({
      kind,
      severity: z.enum(SEVERITIES),
      sentence: z.string(),
      since: date,
      probability: share,
      howSure: z.string(),
    }),
  ),
  hardDaysSoFar: z.number(),
  hardDaysExpected: z.number().describe('Of the next 14 days, if nobody comes'),
  chart: z.object({
    from: date,
    to: date,
    days: z.array(
      z.object({
        date,
        gallons: z.number(),
        remainingGallons: z.number(),
        believedGallons: z.number().nullable(),
        isHard: z.boolean(),
      }),
    ),
    regenerations: z.array(z.object({ date, drewSalt: share })),
  }),
  causes: z
    .array(
      z.object({
        cause: cause.nullable().describe('Null: nothing of the kind'),
        words: z.string(),
        probability: share,
        howSure: z.string(),
        remedy: z.string(),
      }),
    )
    .describe('The likeliest first; each probability is of its own alert'),
  checks: z
    .array(
      z.object({
        check: z.enum(keysOf(CHECKS)),
        task: z.string(),
        telling: z.string(),
        minutes: z.number(),
      }),
    )
    .describe('In the order that saves time'),
  parts: z.array(
    z.object({ part: z.string(), because: z.string().nullable().describe('Null: on every visit') }),
  ),
  settings: z.object({
    inDoubt: z.boolean(),
    rows: z.array(
      z.object({
        setting: z.enum(SETTINGS),
        programmed: z.number().describe('As far as is known'),
        set: z.number().nullable().describe('What to set; null: leave it'),
      }),
    ),
  }),
  beforeLeaving: z.array(z.string()),
  record: z.array(z.object({ item: z.enum(RECORD_ITEMS), words: z.string(), codes: z.array(z.string()) })),
  cautions: z.array(z.object({ about: z.string(), words: z.string(), source: z.string() })),
});

export type Brief = z.infer<typeof briefSchema>;
