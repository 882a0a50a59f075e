import type { Received } from '../lib/replay/received.ts';
import { settle } from '../lib/replay/standing.ts';
import type { Store, UnitRef } from '../lib/store/store.ts';
import type { Fact } from '../shared/facts.ts';
import { readmit } from '../shared/readmit.ts';
import type { Unit } from '../shared/registry.ts';
import { factPages } from './everything.ts';

/** All that has been received of a unit, every copy. */
export async function receivedOf(store: Store, ref: UnitRef, unit: Unit): Promise<Received[]> {
  const received: Received[] = [];
  for await (const facts of factPages(store, ref)) {
    for (const { line } of facts)
      received.push({ line: received.length + 1, raw: line, fact: readmit(line, unit) });
  }
  return received;
}

/** The facts of a unit that stand, each id once. */
export async function standingFacts(store: Store, ref: UnitRef, unit: Unit): Promise<Fact[]> {
  return settle(await receivedOf(store, ref, unit)).standing.map(({ fact }) => fact);
}
