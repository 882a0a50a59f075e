import * as z from 'zod';
import { parseInstant } from './instant.ts';

/** An RFC 3339 date-time, left as text. */
export const instantSchema = z
  .string()
  .refine((text) => parseInstant(text) !== undefined, 'is not an RFC 3339 time with an offset')
  .meta({ format: 'date-time' });
