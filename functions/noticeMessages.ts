import * as z from 'zod';
import { CHANGES } from '../lib/live/transitions.ts';
import { alertSchema } from '../shared/alertSchema.ts';
import { idSchema } from '../shared/ids.ts';

/** To `notify`: one change of an alert. */
export const noticeSchema = z.object({
  /** Left out by all that were sent before there was anything else to tell of. */
  about: z.literal('alert').optional(),
  companyId: idSchema,
  unitId: idSchema,
  key: z.string(),
  change: z.enum(CHANGES),
  at: z.int(),
  alertId: z.string(),
  alert: alertSchema,
  /** Grows with each notice of a unit: of two that overtook each other, the one with the greater stands. */
  sequence: z.int(),
});

/** When the technician of a visit is told of it. */
const OCCASIONS = ['planned', 'morning'] as const;

/** To `notify`: a visit has been planned, or the morning of its day has come. */
export const visitNoticeSchema = z.object({
  about: z.literal('visit'),
  companyId: idSchema,
  unitId: idSchema,
  visitId: idSchema,
  /** Its day, of the site: if it has another meanwhile, this is no longer told. */
  date: z.iso.date(),
  occasion: z.enum(OCCASIONS),
});

/** To `notify`: what people are to be told of. */
export const notifySchema = z.discriminatedUnion('about', [noticeSchema, visitNoticeSchema]);

export type NoticeMessage = z.infer<typeof noticeSchema>;
export type VisitNoticeMessage = z.infer<typeof visitNoticeSchema>;
