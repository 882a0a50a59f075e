import type { WireEvent } from '../events.ts';
import { formOfEvent } from './eventForms.ts';
import { type Form, type Members, PATTERNS } from './form.ts';
import { DateSlot, InstantSlot, NumberSlot, PatternSlot, type Slot, SourceSlot, TextSlot } from './slots.ts';

/** Some words of a line, and the value behind them. */
export interface Piece {
  words: string;
  slot: Slot;
  /** What the value must be; undefined where no schema names it. */
  form: Form | undefined;
  /** The object that holds the value in the event, and under what name. */
  holder: Record<string, unknown>;
  name: string;
}

/** How a line is spelt: its pieces in their order, and the words behind the last. */
export interface Spelling {
  pieces: Piece[];
  end: string;
}

/** An object of a line that has begun. */
interface Begun {
  holder: Record<string, unknown>;
  members: Members;
  names: number;
}

/** A text, or as much of it as goes before an escape; a word or number; or any other sign. */
const TOKEN = /"[^"\\]*"?|[-+.\w]+|[^\s:]/g;

/**
 * Takes an accepted line apart into values and the words between them: names, white space, and values that are one of
 * few, as units are. Returns undefined where that would not tell all about the next such line: for events without a form, escapes,
 * names that come twice, and all but texts where no schema names them.
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
        : objectOf(event, formOfEvent(event.type));
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
      const form = memberOf(inside, name);
      if (isOneOfFew(form, holder[name])) continue;
      const slot = slotFor(form, holder[name]);
      // Only the instants of the envelope are handed on as they were read.
      if (!slot || (slot instanceof InstantSlot && begun.length > 1)) return undefined;
      const from = isText ? index + 1 : index;
      pieces.push({ words: line.slice(told, from), slot, form, holder, name });
      told = isText ? index + token.length - 1 : index + token.length;
    }
  }
  return { pieces, end: line.slice(told) };
}

function objectOf(value: unknown, form: Form | undefined): Begun | undefined {
  return form?.members && isRecord(value) ? { holder: value, members: form.members, names: 0 } : undefined;
}

/** What a member must be if it is given at all; undefined if no schema names it. */
function memberOf({ members }: Begun, name: string): Form | undefined {
  return Object.hasOwn(members, name) ? members[name] : undefined;
}

function isOneOfFew(form: Form | undefined, value: unknown): boolean {
  return value === null || typeof value === 'boolean' || form?.words !== undefined;
}

/** How a value that fits its form is spelt; undefined where a line does not show that the next one does. */
function slotFor(form: Form | undefined, value: unknown): Slot | undefined {
  if (!form) return typeof value === 'string' ? new TextSlot(0, Infinity) : undefined;
  const { is = '', number, text } = form;
  if (is === 'instant') return new InstantSlot();
  if (is === 'source') return new SourceSlot();
  if (is === 'date') return new DateSlot();
  if (number) return new NumberSlot(number.least, number.most, number.whole);
  if (text) return new TextSlot(text.least, text.most);
  const pattern = PATTERNS[is];
  return pattern && new PatternSlot(pattern);
}

function isRecord(value: unknown): value is Record<string, unknown> {
  return typeof value === 'object' && value !== null;
}
