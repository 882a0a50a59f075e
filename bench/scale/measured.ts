import { readFile } from 'node:fs/promises';
import * as z from 'zod';

const spent = z.object({ read: z.number(), write: z.number(), calls: z.number() });
const unitDay = z.object({
  after: z.number(),
  events: z.number(),
  transitions: z.number(),
  units: z.record(z.string(), spent),
  company: z.record(z.string(), spent),
});

/** One batch of a function, as it was timed. */
const batchTimes = z.object({
  /** Messages in the batch. */
  messages: z.int().positive(),
  /** CPU of the whole process but for the table, milliseconds. */
  cpuMs: z.number().positive(),
  /** Calls to the table one after another, at the longest path through the batch. */
  tableRounds: z.number().min(0),
  /** Sends to queues or to people, counted the same way. */
  sendRounds: z.number().min(0),
  /** Bytes that it wrote to its log, metrics among them. */
  logBytes: z.number().min(0),
});

const measuredSchema = z.object({
  /** `YYYY-MM-DD`. */
  date: z.iso.date(),
  /** Class of the machine, no name. */
  machine: z.string(),
  capacity: z.object({
    /** What it was measured with. */
    units: z.int(),
    start: z.int(),
    windowDays: z.int(),
    /** Sound units, as handlers find them that know the unit and the company already. */
    warm: unitDay,
    /** The same for handlers that know neither. */
    cold: unitDay,
    /** Every unit has a fault some day; what it then costs more is what an open alert costs. */
    faulty: unitDay,
  }),
  events: z.object({
    /** Share of a day's events by the local hour in which they arrive. */
    byLocalHour: z.array(z.number()).length(24),
    /** Bytes of a line, mean. */
    lineBytes: z.number(),
  }),
  handlers: z.object({
    ingest: z.array(batchTimes),
    assess: z.array(batchTimes),
    /** Assess at noon, when no fact has come. */
    noon: z.array(batchTimes),
    notify: z.array(batchTimes),
  }),
  /** CPU of the sweep a unit, reading the roster and making its message, milliseconds. */
  sweepCpuMsAUnit: z.number(),
  /** Of the process that ran the handlers, at most, megabytes. */
  rssMb: z.number(),
});

export type Measured = z.infer<typeof measuredSchema>;
export type BatchTimes = z.infer<typeof batchTimes>;

/** Reads the figures of a measuring run. */
export async function readMeasured(path: string | URL): Promise<Measured> {
  return measuredSchema.parse(JSON.parse(await readFile(path, 'utf8')));
}
