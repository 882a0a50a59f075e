import * as z from 'zod';
import { idSchema } from '../../shared/ids.ts';
import { zoneNamed } from '../../shared/time/zone.ts';
import { ROLES } from './roles.ts';

/** How somebody likes figures and times shown; left out: as their browser has it. */
export const preferencesSchema = z.strictObject({
  timeZone: z
    .string()
    .refine((name) => zoneNamed(name) !== undefined, {
      error: ({ input }) => `${input} is not an IANA time zone`,
    })
    .optional(),
  locale: z
    .string()
    .refine(isLocale, { error: ({ input }) => `${input} is not a language tag (BCP 47), such as en-US` })
    .optional(),
  units: z.enum(['us', 'metric']).default('us'),
});

/** Somebody who works for a company. `mail` is what the identity provider knows them by. */
export const personSchema = preferencesSchema.extend({
  personId: idSchema,
  mail: z.email().max(254).toLowerCase(),
  name: z.string().trim().min(1).max(128),
  role: z.enum(ROLES),
  sms: z.e164().optional(),
});

export type Person = z.infer<typeof personSchema>;

function isLocale(tag: string): boolean {
  try {
    return Intl.getCanonicalLocales(tag).length === 1;
  } catch {
    return false;
  }
}
