import { StoreError } from '../../lib/store/errors.ts';
import type { Store, UnitFacts } from '../../lib/store/store.ts';

/** What befalls a call to the table. */
const MISHAPS = ['throttled', 'lost-answer', 'lost-request', 'late', 'conflict', 'partly'] as const;

type Mishap = (typeof MISHAPS)[number];

export interface Faults {
  /** Share of the calls that something befalls, 0 to 1. */
  share: number;
  /** Uniform on 0 to 1: the schedule hangs on nothing else. */
  uniform: () => number;
}

/** How often each mishap has happened. */
export type Happened = Record<Mishap, number>;

/**
 * A store over another, to which happens what happens to a table far away: it takes no more for now; the request or the
 * answer is lost; the caller gives up on a frozen peer, which does what it was asked for much later; somebody else was
 * quicker; of a batch some items are left. Reads that need not be fresh may be behind.
 */
export function faultyStore(store: Store, faults: Faults): { store: Store; happened: Happened } {
  const happened: Happened = {
    throttled: 0,
    'lost-answer': 0,
    'lost-request': 0,
    late: 0,
    conflict: 0,
    partly: 0,
  };
  const late: (() => Promise<unknown>)[] = [];
  const lastSeen = new Map<string, unknown>();

  const mishap = (): Mishap | undefined => {
    if (faults.uniform() >= faults.share) return undefined;
    return MISHAPS[Math.floor(faults.uniform() * MISHAPS.length)];
  };

  const call = async (name: string, args: unknown[], act: (args: unknown[]) => Promise<unknown>) => {
    // What a frozen peer was asked for long ago may be done at any time.
    while (late.length > 0 && faults.uniform() < 0.3)
      await late
        .shift()?.()
        .catch(() => {});
    const befalls = mishap();
    if (befalls) happened[befalls] += 1;
    switch (befalls) {
      case 'throttled':
        throw new StoreError('throttled', 'no more for now');
      case 'lost-request':
        throw new StoreError('unavailable', 'no answer: it was never asked');
      case 'lost-answer':
        await act(args);
        throw new StoreError('unavailable', 'no answer: it was done');
      case 'late':
        late.push(() => act(args));
        throw new StoreError('unavailable', 'no answer: it is still to be done');
      case 'conflict':
        if (name === 'putHead') throw new StoreError('conflict', 'somebody was quicker');
        return act(args);
      case 'partly': {
        const [ofUnits] = args;
        if (name !== 'putFacts' || !Array.isArray(ofUnits)) return act(args);
        const some = ofUnits.map(({ unit, facts }: UnitFacts) => ({
          unit,
          facts: facts.filter(() => faults.uniform() < 0.5),
        }));
        await act([some]);
        throw new StoreError('throttled', 'some of the batch was left');
      }
      default:
        return behind(name, args, act);
    }
  };

  /** A unit that need not be fresh is sometimes as it was when it was last read. */
  const behind = async (name: string, args: unknown[], act: (args: unknown[]) => Promise<unknown>) => {
    const [unit, options] = args;
    if (name !== 'unit') return act(args);
    const key = JSON.stringify(unit);
    const seen = lastSeen.get(key);
    const fresh = typeof options === 'object' && options !== null && 'fresh' in options && options.fresh;
    if (seen && !fresh && faults.uniform() < faults.share) return seen;
    const found = await act(args);
    lastSeen.set(key, found);
    return found;
  };

  const proxy = new Proxy(store, {
    get(target, name) {
      const method: unknown = Reflect.get(target, name);
      if (typeof method !== 'function' || typeof name !== 'string') return method;
      return (...args: unknown[]) => call(name, args, (given) => method.apply(target, given));
    },
  });
  return { store: proxy, happened };
}
