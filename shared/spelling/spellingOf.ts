import * as z from 'zod';
import { type WireEvent, wholeSchemaOf } from '../events.ts';
import { sourceSchema } from '../ids.ts';
import { instantSchema } from '../time/instantSchema.ts';
import { DateSlot, InstantSlot, NumberSlot, PatternSlot, type Slot, SourceSlot, TextSlot } from './slots.ts';

/** Some words of a line, and the value behind them. */
export interface Piece {
  words: string;
  slot: Slot;
  /** What the value must be; undefined where no schema names it. */
  schema: Schema;
  /** The object that holds the value in the event, and under what name. */
  holder: Record<string, unknown>;
  name: string;
}

/** How a line is spelt: its pieces in their order, and the words behind the last. */
export interface Spelling {
  pieces: Piece[];
  end: string;
}

type Schema = z.core.$ZodType | undefined;

/** An object of a line that has begun. */
interface Begun {
  holder: Record<string, unknown>;
  shape: Readonly<Record<string, Schema>>;
  names: number;
}

/** A text, or as much of it as goes before an escape; a word or number; or any other sign. */
const TOKEN = /"[^"\\]*"?|[-+.\w]+|[^\s:]/g;

/**
 * Takes an accepted line apart into values and the words between them: names, white space, and values that are one of
 * few, as units are. Returns undefined where that would not tell all about the next such line: for lists, escapes, names
 * that come twice, and what a schema does not name or checks in ways of its own.
 */
export function spellingOf(line: string, event: WireEvent): Spelling | undefined {
  const pieces: Piece[] = [];
  const begun: Begun[] = [];
  let name = '';
  let isNameNext = false;
  let told = 0;
  for (const { 0: token, index } of line.matchAll(TOKEN)) {
    const inside = begun.at(-1);
    const isText = token.startsWith('"');
    if (isText && (token.length === 1 || !token.endsWith('"'))) return undefined;
    if (token === '{') {
      const object = inside
        ? objectOf(inside.holder[name], memberOf(inside, name))
        : objectOf(event, wholeSchemaOf(event.type));
      if (!object) return undefined;
      begun.push(object);
      isNameNext = true;
    } else if (!inside) {
      return undefined;
    } else if (token === '}') {
      if (inside.names !== Object.keys(inside.holder).length) return undefined;
      begun.pop();
    } else if (token === ',') {
      isNameNext = true;
    } else if (isNameNext && isText) {
      name = token.slice(1, -1);
      inside.names += 1;
      isNameNext = false;
    } else {
      const { holder } = inside;
      const schema = memberOf(inside, name);
      if (isOneOfFew(schema, holder[name])) continue;
      const slot = slotFor(schema, holder[name]);
      // Only the instants of the envelope are handed on as they were read.
      if (!slot || (slot instanceof InstantSlot && begun.length > 1)) return undefined;
      const from = isText ? index + 1 : index;
      pieces.push({ words: line.slice(told, from), slot, schema, holder, name });
      told = isText ? index + token.length - 1 : index + token.length;
    }
  }
  return { pieces, end: line.slice(told) };
}

/** An object of which its schema checks nothing but the members. */
function objectOf(value: unknown, schema: Schema): Begun | undefined {
  if (!(schema instanceof z.ZodObject) || schema.def.checks?.length || !isRecord(value)) return undefined;
  return { holder: value, shape: schema.shape, names: 0 };
}

/** What a member must be if it is given at all; undefined if no schema names it. */
function memberOf({ shape }: Begun, name: string): Schema {
  let schema = Object.hasOwn(shape, name) ? shape[name] : undefined;
  while (schema instanceof z.ZodOptional || schema instanceof z.ZodNullable) schema = schema.unwrap();
  return schema;
}

function isOneOfFew(schema: Schema, value: unknown): boolean {
  return (
    value === null ||
    typeof value === 'boolean' ||
    schema instanceof z.ZodEnum ||
    schema instanceof z.ZodLiteral
  );
}

/** How a value that fits its schema is spelt; undefined if only the schema can tell whether the next one fits. */
function slotFor(schema: Schema, value: unknown): Slot | undefined {
  if (schema === undefined) return typeof value === 'string' ? new TextSlot(0, Infinity) : undefined;
  if (schema === instantSchema) return new InstantSlot();
  if (schema === sourceSchema) return new SourceSlot();
  if (schema instanceof z.ZodISODate) return new DateSlot();
  if (schema instanceof z.ZodNumber)
    return new NumberSlot(schema.minValue ?? -Infinity, schema.maxValue ?? Infinity, schema.isInt);
  if (!(schema instanceof z.ZodString) || schema.def.checks?.length !== 1) return undefined;
  const [check] = schema.def.checks;
  if (check instanceof z.core.$ZodCheckRegex) return new PatternSlot(check._zod.def.pattern);
  const { minLength, maxLength } = schema.meta() ?? {};
  return typeof minLength === 'number' && typeof maxLength === 'number'
    ? new TextSlot(minLength, maxLength)
    : undefined;
}

function isRecord(value: unknown): value is Record<string, unknown> {
  return typeof value === 'object' && value !== null;
}
