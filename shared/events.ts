import * as z from 'zod';
import { idSchema, sourceSchema } from './ids.ts';
import { once } from './once.ts';
import {
  capacitySchema,
  flowSchema,
  hardnessSchema,
  massReadingSchema,
  massSchema,
  volumeSchema,
} from './quantitySchemas.ts';
import { textSchema } from './text.ts';
import { CLOCK } from './time/clock.ts';
import { instantSchema } from './time/instantSchema.ts';

/** The CloudEvents 1.0 envelope, before its data is judged. Members that it does not name are let through. */
export const envelopeSchema = once(() =>
  z.object({
    specversion: z.literal('1.0'),
    id: textSchema(1, 64),
    source: sourceSchema,
    type: z.string().refine((type) => type !== '', 'is empty'),
    time: instantSchema,
    // CloudEvents has null mean the same as an attribute that is left out.
    recordedtime: instantSchema.nullish(),
    data: z.record(z.string(), z.unknown()),
  }),
);

export type Envelope = z.infer<ReturnType<typeof envelopeSchema>>;

const dateSchema = once(() => z.iso.date('is not a date that exists (YYYY-MM-DD)'));
const periodSchema = once(() =>
  z
    .object({ from: dateSchema(), to: dateSchema() })
    .refine(({ from, to }) => from <= to, { message: 'ends before it begins', path: ['to'] }),
);

const flowDaySchema = once(() =>
  z.object({
    date: dateSchema(),
    volume: volumeSchema(),
    peakFlow: flowSchema().optional(),
    flowHours: z.int().min(0).max(25).optional(),
    longestFlowMinutes: z.number().min(0).max(1500).optional(),
    register: volumeSchema().optional(),
  }),
);

const regenerationSchema = once(() =>
  z.object({
    trigger: z.enum(['metered', 'manual', 'override', 'unknown']),
    durationMinutes: z.number().min(0).optional(),
    saltBefore: massReadingSchema().optional(),
    saltAfter: massReadingSchema().optional(),
    brineDrawn: volumeSchema().optional(),
    water: volumeSchema().optional(),
    volumeSince: volumeSchema().optional(),
  }),
);

const settingsSchema = once(() =>
  z.object({
    hardness: hardnessSchema(),
    capacity: capacitySchema(),
    regenerationHour: z.int().min(0).max(23),
    clock: z.string().regex(CLOCK, 'is not HH:MM').optional(),
    saltDose: massSchema().optional(),
    mode: z.enum(['service', 'setup']).optional(),
  }),
);

const saltLevelSchema = once(() => z.object({ mass: massReadingSchema() }));

const powerSchema = once(() =>
  z.object({
    lostAt: instantSchema,
    restoredAt: instantSchema,
    settingsKept: z.boolean(),
  }),
);

const serviceVisitSchema = once(() =>
  z.object({
    technician: idSchema,
    findings: z.array(z.string()),
    work: z.array(z.string()),
    parts: z.array(textSchema(1, 120)).max(50).optional(),
    saltAdded: massSchema().optional(),
    rawHardness: hardnessSchema().optional(),
    coldHardness: hardnessSchema().optional(),
    hotHardness: hardnessSchema().optional(),
    notes: textSchema(0, 2000).optional(),
  }),
);

/** What people do about alerts, in the sense of ISA-18.2, and about a unit as a whole. Every second one undoes the one before it. */
const ALERT_ACTS = [
  'acknowledge',
  'unacknowledge',
  'shelve',
  'unshelve',
  'remove-from-service',
  'return-to-service',
] as const;

export type AlertActName = (typeof ALERT_ACTS)[number];

const alertActSchema = once(() =>
  z.object({
    act: z.enum(ALERT_ACTS),
    by: textSchema(1, 300),
    alertId: idSchema.optional(),
    until: instantSchema.optional(),
  }),
);

const questionSchema = once(() => z.object({ step: z.enum(['asked', 'not-sure']) }));

/** What `data` must be, by event type. The service itself writes the last two; of others it takes them only from a company, which may bring a backup back. */
export const dataSchemas = {
  get 'brinebell.flow-day.v1'() {
    return flowDaySchema();
  },
  get 'brinebell.regeneration.v1'() {
    return regenerationSchema();
  },
  get 'brinebell.settings.v1'() {
    return settingsSchema();
  },
  get 'brinebell.salt-level.v1'() {
    return saltLevelSchema();
  },
  get 'brinebell.power.v1'() {
    return powerSchema();
  },
  get 'brinebell.service-visit.v1'() {
    return serviceVisitSchema();
  },
  get 'brinebell.away.v1'() {
    return periodSchema();
  },
  get 'brinebell.at-home.v1'() {
    return periodSchema();
  },
  get 'brinebell.alert-act.v1'() {
    return alertActSchema();
  },
  get 'brinebell.question.v1'() {
    return questionSchema();
  },
};

export type EventType = keyof typeof dataSchemas;

/** The data of one type of event, as it travels. */
export type EventData<Type extends EventType> = z.infer<(typeof dataSchemas)[Type]>;

/** One event of a known type, as it travels. */
export type WireEvent = {
  [Type in EventType]: Omit<Envelope, 'type' | 'data'> & { type: Type; data: EventData<Type> };
}[EventType];

/** What an event says of its unit, whenever that was. */
export type EventContent = {
  [Type in EventType]: { id: string; type: Type; data: EventData<Type> };
}[EventType];

/** Whether a text names an event type of this contract. */
export function isEventType(type: string): type is EventType {
  return Object.hasOwn(dataSchemas, type);
}

const wholeEvent = (type: EventType) =>
  envelopeSchema().extend({ type: z.literal(type), data: dataSchemas[type] });

/** A whole event of each type. */
const wholeSchemas = new Map<string, () => ReturnType<typeof wholeEvent>>(
  Object.keys(dataSchemas)
    .filter(isEventType)
    .map((type) => [type, once(() => wholeEvent(type))]),
);

/** What a whole event of a type must be; undefined if the contract does not name the type. */
function wholeSchemaOf(type: string): ReturnType<typeof wholeEvent> | undefined {
  return wholeSchemas.get(type)?.();
}

/** A whole event of any type, for the published JSON Schema. */
export const eventSchema = once(() => z.union([...wholeSchemas.values()].map((schema) => schema())));

/** Whether a value is an event that fits its type's schema: quicker than judging envelope and data apart. See `isOfForm`. */
export function isWireEvent(value: unknown): value is WireEvent {
  if (typeof value !== 'object' || value === null || !('type' in value)) return false;
  return typeof value.type === 'string' && wholeSchemaOf(value.type)?.safeParse(value).success === true;
}
