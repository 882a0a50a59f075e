import type { Measured } from './measured.ts';
import { allOf, type ByOperation, type Spent } from './unitDay.ts';

/** Capacity units of one message, by what it asks of the table. */
interface Costs {
  readonly read: number;
  readonly write: number;
}

/** What one message costs the table in each function, taken apart from what was counted a unit-day. */
export interface MessageCosts {
  readonly ingest: Costs;
  /** A look at a sound unit of which facts have come. */
  readonly assess: Costs;
  /** A look because it is noon. */
  readonly noon: Costs;
  /** What a look at a unit with an open alert costs more; `listWrite` is the part that falls on its company's lists. */
  readonly open: Costs & { readonly listWrite: number };
  readonly notify: Costs;
  /** Reads of a company's own items when an environment meets it: revision alone, or revision and rules. */
  readonly companyReads: { readonly ingest: number; readonly assess: number };
}

/** Operations that write an item which stands in the index too. */
const LISTED = ['putAlert', 'dropAlert', 'putAttention', 'dropAttention'];
/**
 * Writes to the index for a write to a listed item, in its own units: one where its place in the list stays, two where it
 * moves (DynamoDB Developer Guide, "Using Global Secondary Indexes", "Provisioned throughput considerations", from memory,
 * unverified). The embedded table does not count them. That half of them move is a guess, no source.
 */
export const INDEX_WRITES = 1.5;
/** A registry record that is not remembered, consistent. */
const RECORD_READ = 1;
/** A small item, eventually consistent (DynamoDB Developer Guide, "Read consistency"). */
const SMALL_READ = 0.5;

/** Takes the unit-day apart. */
export function costsOf({ capacity: { warm, faulty } }: Measured): MessageCosts {
  const looks = (of: { units: ByOperation }) => of.units.unit?.calls ?? 0;
  const noons = looks(warm) - warm.events;
  const all = allOf(warm.units);
  const facts = warm.units.putFacts?.write ?? 0;
  const noonRead = noons * SMALL_READ;
  const sound = { write: all.write / looks(warm), read: all.read / looks(warm) };
  const ill = allOf(faulty.units);
  const listed = listedOf(faulty.units);
  const openWrite = ill.write / looks(faulty) - sound.write;
  return {
    ingest: { write: facts / warm.events, read: RECORD_READ },
    assess: { write: (all.write - facts) / warm.events, read: (all.read - noonRead) / warm.events },
    // What a noon writes now and then is in the share of the facts.
    noon: { write: 0, read: SMALL_READ },
    open: {
      write: openWrite + (listed * INDEX_WRITES) / looks(faulty),
      read: ill.read / looks(faulty) - sound.read,
      listWrite: (listed * INDEX_WRITES) / looks(faulty),
    },
    // Company, alert, unit, alert again; then it is noted that it is being sent, and that it was.
    notify: { write: 2, read: SMALL_READ + 1 + SMALL_READ + 1 },
    companyReads: { ingest: SMALL_READ, assess: 2 * SMALL_READ },
  };
}

/** Write units on items that stand in the index, without the index. */
export function listedOf(operations: ByOperation): number {
  return Object.entries(operations).reduce(
    (sum, [operation, { write }]: [string, Spent]) => sum + (LISTED.includes(operation) ? write : 0),
    0,
  );
}
