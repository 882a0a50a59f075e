import * as z from 'zod';
import { hasCharacters } from './characters.ts';

/**
 * A text of `least` to `most` characters. Not zod's own min and max (4.6.7): those also measure what is no text but has
 * a `length`, and throw if that is an object.
 */
export function textSchema(least: number, most: number) {
  return z
    .string()
    .refine((text) => hasCharacters(text, least, most), `is not a text of ${least} to ${most} characters`)
    .meta({ minLength: least, maxLength: most });
}
