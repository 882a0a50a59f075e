import { hasCharacters } from '../characters.ts';
import { WHOLE_ID } from '../idForm.ts';
import { SOURCE } from '../source.ts';
import { CLOCK } from '../time/clock.ts';
import { parseInstant } from '../time/instant.ts';
import { parseLocalDate } from '../time/localDate.ts';

/** What a value must be, as plain data: what a schema says where it says no more than this. One of its members says which kind it is. */
export interface Form {
  /** An object with these members, and whatever others. */
  readonly members?: Members;
  /** One of these texts. */
  readonly words?: readonly string[];
  readonly number?: { readonly least: number; readonly most: number; readonly whole: boolean };
  /** A text of so many characters. */
  readonly text?: { readonly least: number; readonly most: number };
  /** `yes or no`; or a text: an `instant`, a `date`, or what one of `PATTERNS` matches. */
  readonly is?: string;
  /** Whether it may be left out, and whether it may be null. */
  readonly optional?: boolean;
  readonly nullable?: boolean;
}

export type Members = Readonly<Record<string, Form>>;

/** The regular expressions that a form can name. */
export const PATTERNS: Readonly<Record<string, RegExp>> = { id: WHOLE_ID, source: SOURCE, clock: CLOCK };

/** Whether a value that was read from JSON fits a form. */
export function fits(form: Form, value: unknown): boolean {
  if (value === undefined) return form.optional === true;
  if (value === null) return form.nullable === true;
  if (form.members) return typeof value === 'object' && !Array.isArray(value) && fitsAll(form.members, value);
  if (typeof value === 'number') return form.number !== undefined && isWithin(form.number, value);
  if (typeof value === 'boolean') return form.is === 'yes or no';
  return typeof value === 'string' && fitsText(form, value);
}

function fitsAll(members: Members, value: object): boolean {
  const given = new Map<string, unknown>(Object.entries(value));
  return Object.entries(members).every(([name, member]) => fits(member, given.get(name)));
}

function isWithin({ least, most, whole }: NonNullable<Form['number']>, value: number): boolean {
  return value >= least && value <= most && (!whole || Number.isInteger(value));
}

function fitsText({ words, text, is = '' }: Form, value: string): boolean {
  if (words) return words.includes(value);
  if (text) return hasCharacters(value, text.least, text.most);
  if (is === 'instant') return parseInstant(value) !== undefined;
  if (is === 'date') return parseLocalDate(value) !== undefined;
  return PATTERNS[is]?.test(value) === true;
}
