import * as z from 'zod';
import { MONTH_PATTERN } from './month.ts';

/** A month, `YYYY-MM`. */
export const monthSchema = z.string().regex(MONTH_PATTERN, 'is not a month (YYYY-MM)');
