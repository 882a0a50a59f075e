import * as z from 'zod';
import { WHOLE_ID } from './idForm.ts';
import { SOURCE } from './source.ts';

/** An id of a company, unit, site, region or technician. */
export const idSchema = z.string().regex(WHOLE_ID, 'is not an id (A-Z a-z 0-9 . _ - , 1 to 64 characters)');

/** The `source` of a unit's events. */
export const sourceSchema = z
  .string()

  .regex(SOURCE, 'is not /companies/{companyId}/units/{unitId}');
