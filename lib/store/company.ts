import * as z from 'zod';
import { idSchema } from '../../shared/ids.ts';

/** Where notices go. */
export const channelSchema = z.discriminatedUnion('type', [
  z.strictObject({ type: z.literal('mail'), to: z.array(z.email()).min(1).max(20) }),
  z.strictObject({
    type: z.literal('webhook'),
    url: z.url({ protocol: /^https?$/ }),
    /** The receiver checks each notice's signature with it. */
    secret: z.string().min(16).max(256),
  }),
  z.strictObject({
    type: z.literal('sms'),
    to: z
      .array(z.e164())
      .min(1)
      .max(20)
      .describe('Telephone numbers as ITU-T E.164 has them: + and up to 15 digits'),
  }),
]);

export type Channel = z.infer<typeof channelSchema>;

/** A service company. */
export const companySchema = z.strictObject({
  companyId: idSchema,
  name: z.string().min(1).max(128),
  channels: z.array(channelSchema).max(10).default([]),
  /** What it overrides of the rules; the rules schema judges it. */
  rules: z.record(z.string(), z.unknown()).default({}),
});

export type Company = z.infer<typeof companySchema>;
