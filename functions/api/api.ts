import type { OpenAPIHono } from '@hono/zod-openapi';
import type * as z from 'zod';
import type { UnitRef } from '../../lib/store/store.ts';
import type { UnitRecord } from '../../shared/registry.ts';
import type { Ports } from '../ports.ts';
import type { Access, Member } from './access.ts';
import { Problem } from './problems.ts';

/** What every group of routes is given. */
export interface Api {
  readonly app: OpenAPIHono;
  readonly ports: Ports;
  readonly access: Access;
  /**
   * Schemas that the OpenAPI document has by name, for routes that refer to them without being judged by them. They are
   * made when the document is.
   */
  readonly published: Map<string, () => z.ZodType | Promise<z.ZodType>>;
}

/** An answer in some other media type, which nothing but its reader takes apart. */
export function text(mediaType: string, description: string) {
  return { description, content: { [mediaType]: { schema: { type: 'string' as const } } } };
}

/** Not as a literal: by such a schema the compiler holds no answer. */
const JSON_TYPE: string = 'application/json';

/** What the OpenAPI document says of an object of a few plain members. */
export interface PlainSchema {
  type: 'object';
  properties: Record<string, { type: 'boolean' | 'integer' }>;
  required: string[];
  additionalProperties?: object;
}

/**
 * An answer in JSON whose schema is written down as the document has it: for routes that need zod for nothing else, which
 * takes longer to load than they to answer.
 */
export function plainJson(schema: PlainSchema, description: string) {
  return { description, content: { [JSON_TYPE]: { schema } } };
}

/** An answer in JSON. */
export function json<Schema extends z.ZodType>(schema: Schema, description: string) {
  return { description, content: { 'application/json': { schema } } };
}

/** A body that a request must have, in JSON, with an example of it. */
export function jsonBody<Schema extends z.ZodType>(schema: Schema, example: z.input<Schema>) {
  return { required: true, content: { 'application/json': { schema, example } } };
}

/** A unit of the caller's company. One that is another company's is as unknown as one that is nobody's. */
export async function knownUnit(
  { store }: Pick<Ports, 'store'>,
  { companyId }: Member,
  unitId: string,
): Promise<{ ref: UnitRef; record: UnitRecord }> {
  const ref = { companyId, unitId };
  const { record } = await store.unit(ref, { fresh: true });
  if (!record) throw unitUnknown();
  return { ref, record };
}

export function unitUnknown(): Problem {
  return new Problem('unit-unknown', 'Look it up among GET /v1/units, or add it with PUT /v1/units.');
}
