import type { EventContent, WireEvent } from '../events.ts';
import type { Form } from './form.ts';
import { hold, Words } from './heldLine.ts';
import {
  type DateSlot,
  InstantSlot,
  type NumberSlot,
  type PatternSlot,
  type Slot,
  SourceSlot,
  TextSlot,
} from './slots.ts';
import type { Piece, Spelling } from './spellingOf.ts';

/** What a line says. It is lent: the next line of its spelling is read into the same. */
export interface Usual {
  /** All but the envelope. */
  readonly event: EventContent;
  readonly id: TextSlot;
  readonly source: SourceSlot;
  readonly time: InstantSlot;
  readonly recorded: InstantSlot | undefined;
}

/** What may come next in a line: words and the value behind them, and what may come then. */
interface Step {
  readonly words: Words;
  readonly piece: Piece;
  readonly slot: Slot;
  readonly next: Next;
}

/** The words with which a line may end, what it then says, and the values that have a place in its event. */
interface End extends Usual {
  readonly text: string;
  readonly words: Words;
  readonly quantities: readonly { readonly holder: { value: unknown }; readonly slot: ValueSlot }[];
  readonly others: readonly {
    readonly holder: Record<string, unknown>;
    readonly name: string;
    readonly slot: ValueSlot;
  }[];
}

type ValueSlot = NumberSlot | TextSlot | PatternSlot | DateSlot;

interface Next {
  readonly steps: Step[];
  readonly ends: End[];
}

/** As many spellings are kept; a fleet of many kinds of meters has some fifty. */
const MOST_SPELLINGS = 256;
/** To learn a spelling takes about as long as so many lines of a spelling that is known save. */
const COST = 16;
/** What may be spent beforehand. */
const CREDIT = 64 * COST;

let beginning: Next = { steps: [], ends: [] };
let known = 0;
let credit = CREDIT;

/**
 * Reads a line that is spelt like one that `learn` was given, and fits the same schema, in less time than
 * JSON.parse alone would take. Returns undefined for any other.
 */
export function readUsual(line: string): Usual | undefined {
  if (!hold(line)) return undefined;
  let next = beginning;
  let at = 0;
  for (let step = stepAt(next.steps, at); step; step = stepAt(next.steps, at)) {
    at = step.slot.read(line, at + step.words.length);
    if (at < 0) return undefined;
    next = step.next;
  }
  for (const end of next.ends) {
    if (at + end.words.length !== line.length || !end.words.standAt(at)) continue;
    fill(end);
    if (credit < CREDIT) credit += 1;
    return end;
  }
  return undefined;
}

/** Quantities apart, since a member that is named is written five times as quickly as one that has to be looked for. */
function fill({ quantities, others }: End): void {
  for (let at = 0; at < quantities.length; at++) {
    const quantity = quantities[at];
    if (quantity) quantity.holder.value = quantity.slot.value;
  }
  for (let at = 0; at < others.length; at++) {
    const other = others[at];
    if (other) other.holder[other.name] = other.slot.value;
  }
}

function stepAt(steps: readonly Step[], at: number): Step | undefined {
  for (let index = 0; index < steps.length; index++) {
    const step = steps[index];
    if (step?.words.standAt(at)) return step;
  }
  return undefined;
}

/** Whether another spelling may be learnt from a line; then what that takes is spent. */
export function mayLearn(line: string): boolean {
  if (credit < COST || !hold(line)) return false;
  credit -= COST;
  return true;
}

/** Keeps how a line is spelt, and its event, into which the next such line is read. */
export function keep({ pieces, end }: Spelling, event: WireEvent): void {
  if (known === MOST_SPELLINGS) {
    beginning = { steps: [], ends: [] };
    known = 0;
  }
  let next = beginning;
  const envelope: { id?: TextSlot; source?: SourceSlot; time?: InstantSlot; recorded?: InstantSlot } = {};
  const quantities: End['quantities'][number][] = [];
  const others: End['others'][number][] = [];
  for (const piece of pieces) {
    const step = stepOf(next, piece);
    next = step.next;
    const { slot } = step;
    const { holder, name, form } = piece;
    if (!form) continue;
    if (slot instanceof SourceSlot) envelope.source = slot;
    else if (slot instanceof InstantSlot) envelope[name === 'recordedtime' ? 'recorded' : 'time'] = slot;
    else if (slot instanceof TextSlot && holder === event && name === 'id') envelope.id = slot;
    else if (name === 'value' && hasValue(holder)) quantities.push({ holder, slot });
    else others.push({ holder, name, slot });
  }
  const { id, source, time, recorded } = envelope;
  if (!id || !source || !time || next.ends.some((other) => other.text === end)) return;
  next.ends.push({ text: end, words: new Words(end), event, id, source, time, recorded, quantities, others });
  known += 1;
}

function hasValue(holder: object): holder is { value: unknown } {
  return 'value' in holder;
}

/** The step that a piece takes, which is new where no line went on so before. */
function stepOf({ steps }: Next, piece: Piece): Step {
  const { words, form, slot } = piece;
  const taken = steps.find(({ piece }) => piece.words === words && isSame(piece.form, form));
  if (taken) return taken;
  const step = { words: new Words(words), piece, slot, next: { steps: [], ends: [] } };
  steps.push(step);
  return step;
}

/** Whether two forms read the same: those of two types of event often do. */
function isSame(one: Form | undefined, other: Form | undefined): boolean {
  return one === other || JSON.stringify(one) === JSON.stringify(other);
}
