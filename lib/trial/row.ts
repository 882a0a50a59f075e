import * as z from 'zod';
import { alertSchema } from '../../shared/alertSchema.ts';
import type { Alert } from '../../shared/alerts.ts';
import { idSchema } from '../../shared/ids.ts';
import { type AlertPair, CHANGES, MOVES } from './compare.ts';

/** An alert as a trial writes it: as replay does, without its evidence. */
const sideSchema = alertSchema.pick({
  severity: true,
  cause: true,
  raisedAt: true,
  clearedAt: true,
  probability: true,
  history: true,
  summary: true,
});

/** One line of trial.ndjson: an alert of a unit before the change of the rules, after it, or both. */
export const trialRowSchema = z.object({
  unitId: idSchema,
  kind: alertSchema.shape.kind,
  change: z
    .enum(CHANGES)
    .describe(
      '`gone`: by the rules as they are alone; `new`: by those proposed alone; `moved`: by both, but',
    ),
  moves: z
    .array(z.enum(MOVES))
    .describe('what differs; `severity` also where one is come to at another time; else empty'),
  raisedDays: z
    .number()
    .nullable()
    .describe('By how many days later it is raised, to a tenth; negative if earlier; null unless both'),
  before: sideSchema.nullable(),
  after: sideSchema.nullable(),
});

export type TrialRow = z.infer<typeof trialRowSchema>;

export type TrialSide = z.infer<typeof sideSchema>;

/** A pair as it is written. */
export function rowOf(
  unitId: string,
  { kind, change, moves, raisedDays, before, after }: AlertPair,
): TrialRow {
  return {
    ...{ unitId, kind, change, moves: [...moves], raisedDays },
    before: before && sideOf(before),
    after: after && sideOf(after),
  };
}

function sideOf({ severity, cause, raisedAt, clearedAt, probability, history, summary }: Alert): TrialSide {
  return { severity, cause, raisedAt, clearedAt, probability, history, summary };
}
