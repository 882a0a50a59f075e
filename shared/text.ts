import * as z from 'zod';

/**
 * A text of `least` to `most` characters. Not zod's own min and max (4.6.7): those also measure what is no text but has
 * a `length`, and throw if that is an object.
 */
export function textSchema(least: number, most: number) {
  return z
    .string()
    .refine((text) => isWithin(text, least, most), `is not a text of ${least} to ${most} characters`)
    .meta({ minLength: least, maxLength: most });
}

/** Characters as JSON Schema counts them: one for each code point, which has one or two units here. */
function isWithin(text: string, least: number, most: number): boolean {
  if (text.length > 2 * most) return false;
  const characters = text.length > most || text.length < 2 * least ? [...text].length : text.length;
  return characters >= least && characters <= most;
}
