import type { EventContent, WireEvent } from '../events.ts';
import type { Instant } from '../time/instant.ts';
import { instantSlot } from './slots.ts';
import { type Place, type Spelling, spellingOf } from './spellingOf.ts';

/** What a line says. It is lent: the next line of the same spelling is read into it. */
export interface Usual {
  readonly event: EventContent & { readonly source: string };
  readonly instants: Instants;
}

/** The instants of an envelope, read. */
type Instants = { time: Instant; recordedtime: Instant | undefined };

const TYPES = '"brinebell.';
/** As many spellings of a type are kept: a meter has some eight, by what it senses and what happened. */
const MOST_OF_A_TYPE = 32;
/** To learn a spelling takes about as long as so many lines of a spelling that is known save. */
const COST = 64;
/** What may be spent beforehand. */
const CREDIT = 64 * COST;

/** By how the type is written, those that came last first. */
const forms = new Map<string, Form[]>();
let credit = CREDIT;

/** Reads lines of one spelling. */
class Form implements Usual {
  readonly pattern: string;
  readonly event: WireEvent;
  readonly instants: Instants = { time: 0, recordedtime: undefined };
  readonly #expression: RegExp;
  readonly #places: readonly Place[];

  /** @param event the one of which the spelling was learnt, which becomes the form's own */
  constructor({ pattern, places }: Spelling, event: WireEvent) {
    this.pattern = pattern;
    this.event = event;
    this.#expression = new RegExp(pattern);
    this.#places = places.map((place) =>
      place.slot === instantSlot ? { ...place, holder: this.instants } : place,
    );
  }

  /** Whether a line is of this spelling, and fits its schema; it then stands in the form. */
  fill(line: string): boolean {
    const match = this.#expression.exec(line);
    if (!match) return false;
    for (let at = 0; at < this.#places.length; at++) {
      const place = this.#places[at];
      const value = place?.slot.read(match[at + 1] ?? '');
      if (!place || value === undefined) return false;
      place.holder[place.name] = value;
    }
    return true;
  }
}

/**
 * Reads a line that is spelt like one that {@link learn} was given, and fits the same schema, in a third of the time
 * that JSON.parse alone would take. Returns undefined for any other.
 */
export function readUsual(line: string): Usual | undefined {
  const ofType = forms.get(typeIn(line));
  if (!ofType) return undefined;
  for (let at = 0; at < ofType.length; at++) {
    const form = ofType[at];
    if (!form?.fill(line)) continue;
    if (at > 0) {
      ofType.copyWithin(1, 0, at);
      ofType[0] = form;
    }
    if (credit < CREDIT) credit += 1;
    return form;
  }
  return undefined;
}

/**
 * Learns how an accepted line is spelt, so that the next one like it can be read quickly.
 *
 * @param event what it says, which must not be used any more
 */
export function learn(line: string, event: WireEvent): void {
  if (credit < COST) return;
  credit -= COST;
  const spelling = spellingOf(line, event);
  if (!spelling) return;
  const type = typeIn(line);
  const ofType = forms.get(type) ?? [];
  forms.set(type, ofType);
  if (ofType.some(({ pattern }) => pattern === spelling.pattern)) return;
  if (ofType.length >= MOST_OF_A_TYPE) ofType.pop();
  ofType.unshift(new Form(spelling, event));
}

/** The type of an event, if nothing in its line looks like one before it; else what does. */
function typeIn(line: string): string {
  const from = line.indexOf(TYPES);
  return line.slice(from, line.indexOf('"', from + TYPES.length));
}
