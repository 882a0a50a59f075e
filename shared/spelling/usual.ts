import type { EventContent, WireEvent } from '../events.ts';
import { hold, LONGEST_HELD, stands, wordsOf } from './heldLine.ts';
import { InstantSlot, type Slot, SourceSlot } from './slots.ts';
import { type Piece, type Spelling, spellingOf } from './spellingOf.ts';

/** What a line says. It is lent: the next line of its spelling is read into the same. */
export interface Usual {
  readonly event: EventContent;
  readonly source: SourceSlot;
  readonly time: InstantSlot;
  readonly recorded: InstantSlot | undefined;
}

/** What may come next in a line: words and the value behind them, and what may come then. */
interface Step {
  readonly words: Uint8Array;
  readonly piece: Piece;
  readonly slot: Slot;
  readonly next: Next;
}

/** The words with which a line may end, what it then says, and which of its values have a place in the event. */
interface End extends Usual {
  readonly words: Uint8Array;
  readonly places: readonly Piece[];
}

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
 * Reads a line that is spelt like one that {@link learn} was given, and fits the same schema, in less time than
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
    if (at + end.words.length !== line.length || !stands(end.words, at)) continue;
    for (const { holder, name, slot } of end.places) holder[name] = slot.value;
    if (credit < CREDIT) credit += 1;
    return end;
  }
  return undefined;
}

function stepAt(steps: readonly Step[], at: number): Step | undefined {
  for (const step of steps) if (stands(step.words, at)) return step;
  return undefined;
}

/**
 * Learns how an accepted line is spelt, so that the next one like it can be read quickly.
 *
 * @param event what it says, which must not be used any more
 */
export function learn(line: string, event: WireEvent): void {
  if (credit < COST || line.length > LONGEST_HELD) return;
  credit -= COST;
  const spelling = spellingOf(line, event);
  if (spelling) keep(spelling, event);
}

function keep({ pieces, end }: Spelling, event: WireEvent): void {
  if (known === MOST_SPELLINGS) {
    beginning = { steps: [], ends: [] };
    known = 0;
  }
  let next = beginning;
  let source: SourceSlot | undefined;
  const instants: Record<string, InstantSlot> = {};
  const places: Piece[] = [];
  for (const piece of pieces) {
    const step = stepOf(next, piece);
    const { slot } = step;
    if (slot instanceof InstantSlot) instants[piece.name] = slot;
    else if (slot instanceof SourceSlot) source = slot;
    else if (piece.schema) places.push({ ...piece, slot });
    next = step.next;
  }
  const { time, recordedtime: recorded } = instants;
  const words = wordsOf(end);
  if (!source || !time || next.ends.some((other) => String(other.words) === String(words))) return;
  next.ends.push({ words, event, source, time, recorded, places });
  known += 1;
}

/** The step that a piece takes, which is new where no line went on so before. */
function stepOf({ steps }: Next, piece: Piece): Step {
  const { words, schema, slot } = piece;
  const taken = steps.find(({ piece }) => piece.words === words && piece.schema === schema);
  if (taken) return taken;
  const step = { words: wordsOf(words), piece, slot, next: { steps: [], ends: [] } };
  steps.push(step);
  return step;
}
