import * as z from 'zod';
import { keysOf } from '../../shared/records.ts';
import { PROBLEMS, typeOf } from './problems.ts';

const faultSchema = z.object({
  detail: z.string(),
  pointer: z
    .string()
    .optional()
    .describe('Where in the body, as a JSON Pointer in a URI fragment (RFC 6901)'),
  parameter: z.string().optional().describe('Which parameter of the address'),
});

/** One thing that is wrong with a request. */
export type Fault = z.infer<typeof faultSchema>;

/** A problem as it travels (RFC 9457). */
export const problemSchema = z.object({
  type: z.enum(keysOf(PROBLEMS).map(typeOf)).describe('Stable: names the problem'),
  title: z.string(),
  status: z.int(),
  detail: z.string().describe('What to do about it'),
  errors: z.array(faultSchema).optional().describe('What is wrong with the request, one by one'),
});
