import * as z from 'zod';

/** Visits are remembered without any number. */
export const visitsRulesSchema = () => z.strictObject({});
