import * as z from 'zod';
import { type Form, PATTERNS } from '../../../shared/spelling/form.ts';
import { instantSchema } from '../../../shared/time/instantSchema.ts';

/** What a schema says, as a form; undefined if it says more than a form can. */
export function formOf(schema: z.core.$ZodType): Form | undefined {
  if (schema instanceof z.ZodOptional) return also(schema.unwrap(), { optional: true });
  if (schema instanceof z.ZodNullable) return also(schema.unwrap(), { nullable: true });
  if (schema === instantSchema) return { is: 'instant' };
  if (schema instanceof z.ZodISODate) return { is: 'date' };
  if (schema instanceof z.ZodBoolean) return { is: 'yes or no' };
  if (schema instanceof z.ZodEnum) return wordsOf(schema.options);
  if (schema instanceof z.ZodLiteral) return wordsOf([...schema.values]);
  if (schema instanceof z.ZodObject) return schema.def.checks?.length ? undefined : objectOf(schema.shape);
  if (schema instanceof z.ZodNumber) return numberOf(schema);
  return schema instanceof z.ZodString ? textOf(schema) : undefined;
}

function also(schema: z.core.$ZodType, more: Form): Form | undefined {
  const form = formOf(schema);
  return form && { ...form, ...more };
}

function wordsOf(values: readonly unknown[]): Form | undefined {
  const words = values.filter((value) => typeof value === 'string');
  return words.length === values.length ? { words } : undefined;
}

function objectOf(shape: z.core.$ZodShape): Form | undefined {
  const members: Record<string, Form> = {};
  for (const [name, schema] of Object.entries(shape)) {
    const form = formOf(schema);
    if (!form) return undefined;
    members[name] = form;
  }
  return { members };
}

/** Bounds that a number may reach, and whether it is whole; JSON can write larger ones than a double holds, which are none. */
function numberOf(schema: z.ZodNumber): Form | undefined {
  const plain = (schema.def.checks ?? []).every(
    ({ _zod: { def } }) =>
      (def.check === 'greater_than' || def.check === 'less_than') && 'inclusive' in def && def.inclusive,
  );
  if (!plain) return undefined;
  const limit = schema.isInt ? Number.MAX_SAFE_INTEGER : Number.MAX_VALUE;
  const least = Math.max(schema.minValue ?? -limit, -limit);
  return { number: { least, most: Math.min(schema.maxValue ?? limit, limit), whole: schema.isInt } };
}

/** A text with one check, which is a pattern that has a name or that of `textSchema`. */
function textOf(schema: z.ZodString): Form | undefined {
  const [check, ...others] = schema.def.checks ?? [];
  if (!check || others.length > 0) return undefined;
  if (check instanceof z.core.$ZodCheckRegex) return namedBy(check._zod.def.pattern);
  const { minLength: least, maxLength: most } = schema.meta() ?? {};
  return typeof least === 'number' && typeof most === 'number' ? { text: { least, most } } : undefined;
}

function namedBy(pattern: RegExp): Form | undefined {
  const [is] = Object.entries(PATTERNS).find(([, each]) => each === pattern) ?? [];
  return is === undefined ? undefined : { is };
}
