import type { Fact, FlowDay } from '../../shared/facts.ts';
import type { Unit } from '../../shared/registry.ts';
import type { LocalDate } from '../../shared/time/localDate.ts';
import { isKept, type MonthAccount } from '../salt/monthAccount.ts';
import { fold, isDelivery } from './fold.ts';
import type { FoldRules } from './foldRules.ts';
import { copyState, newUnitState, type UnitState } from './state.ts';

/** At one instant: first the day that has just closed, then what happened at that moment. */
const RANK: Readonly<Record<Fact['kind'], number>> = {
  'flow-day': 0,
  'service-visit': 1,
  settings: 2,
  power: 3,
  regeneration: 4,
  'salt-level': 5,
  away: 6,
  'at-home': 7,
  question: 8,
  'alert-act': 9,
};

/** Facts since the newest snapshot before a recent one is taken: a fact that comes a day late costs no whole month. */
const RECENT_FACTS = 32;

type Place = Pick<Fact, 'kind' | 'at' | 'time' | 'id'>;

/** The order in which the facts of a unit are folded. */
export function inOrder(a: Place, b: Place): number {
  return (
    a.at - b.at || RANK[a.kind] - RANK[b.kind] || a.time - b.time || (a.id < b.id ? -1 : a.id > b.id ? 1 : 0)
  );
}

/** Whether `a` stands against another flow day `b` of the same unit and date. */
function standsOver(a: FlowDay, b: FlowDay): boolean {
  return a.time !== b.time ? a.time > b.time : a.id > b.id;
}

interface Snapshot {
  /** How many facts it has folded. */
  count: number;
  state: UnitState;
}

/** One before the fact that closes a month, with the accounts that this fact closes. */
interface MonthEnd extends Snapshot {
  closed: readonly MonthAccount[];
}

/**
 * The facts known of a unit and their fold, whatever the order in which they become known. A late fact, or one that
 * corrects a day, refolds from the newest snapshot before it; the state is always that of a fold from nothing.
 */
export class UnitHistory {
  readonly #unit: Unit;
  readonly #rules: FoldRules;
  readonly #start: UnitState;
  readonly #facts: Fact[] = [];
  readonly #days = new Map<LocalDate, FlowDay>();
  /** One at the end of each month. */
  #months: MonthEnd[] = [];
  #recent: Snapshot[] = [];
  #state: UnitState;

  /** @param start the fold of all that stands before, where the history does not begin with the unit */
  constructor(unit: Unit, rules: FoldRules, start: UnitState = newUnitState(unit, rules)) {
    this.#unit = unit;
    this.#rules = rules;
    this.#start = start;
    this.#state = copyState(start);
  }

  /** The state after all that is known. It belongs to the history: read it before the next fact. */
  get state(): UnitState {
    return this.#state;
  }

  /** The month accounts so far, in order: closed ones, and that of the month that runs. */
  get accounts(): MonthAccount[] {
    const closed = this.#months.flatMap((end) => end.closed);
    return isKept(this.#state.month) ? [...closed, this.#state.month] : closed;
  }

  /**
   * Learns a fact. Returns whether it changes anything: a flow day against which another stands does not.
   */
  learn(fact: Fact): boolean {
    if (fact.kind === 'flow-day') {
      const other = this.#days.get(fact.date);
      if (other && !standsOver(fact, other)) return false;
      this.#days.set(fact.date, fact);
      if (other) this.#facts.splice(this.#facts.indexOf(other), 1, fact);
      if (other) return this.#refoldFrom(this.#facts.indexOf(fact));
    }
    const last = this.#facts.at(-1);
    if (!last || inOrder(last, fact) <= 0) {
      this.#facts.push(fact);
      this.#apply(fact, this.#facts.length - 1);
      return true;
    }
    const place = this.#placeOf(fact);
    this.#facts.splice(place, 0, fact);
    return this.#refoldFrom(place);
  }

  #apply(fact: Fact, index: number) {
    const end = closesMonth(this.#unit, this.#state, fact)
      ? { count: index, state: copyState(this.#state) }
      : undefined;
    if (index % RECENT_FACTS === 0) {
      this.#recent = [...this.#recent.slice(-1), { count: index, state: copyState(this.#state) }];
    }
    const closed = fold(this.#unit, this.#state, fact, this.#rules);
    if (end) this.#months.push({ ...end, closed });
  }

  #refoldFrom(place: number): true {
    this.#months = this.#months.filter(({ count }) => count <= place);
    this.#recent = this.#recent.filter(({ count }) => count <= place);
    const from = [this.#months.at(-1), this.#recent.at(-1)].reduce<Snapshot | undefined>(newer, undefined);
    this.#state = copyState(from ? from.state : this.#start);
    // Taken again where it was; the one that is kept must not be there twice.
    const start = from?.count ?? 0;
    this.#months = this.#months.filter(({ count }) => count < start);
    this.#recent = this.#recent.filter(({ count }) => count < start);
    for (let index = start; index < this.#facts.length; index++) {
      const fact = this.#facts[index];
      if (fact) this.#apply(fact, index);
    }
    return true;
  }

  #placeOf(fact: Fact): number {
    let low = 0;
    let high = this.#facts.length;
    while (low < high) {
      const middle = (low + high) >> 1;
      const other = this.#facts[middle];
      if (other && inOrder(other, fact) <= 0) low = middle + 1;
      else high = middle;
    }
    return low;
  }
}

function newer(a: Snapshot | undefined, b: Snapshot | undefined): Snapshot | undefined {
  return !a || (b && b.count > a.count) ? b : a;
}

/** Whether a fact opens the account of another month. */
function closesMonth(unit: Unit, state: UnitState, fact: Fact): boolean {
  if (fact.kind === 'flow-day') return fact.date >= state.month.until;
  if (fact.kind === 'regeneration' || (fact.kind === 'service-visit' && isDelivery(fact)))
    return unit.zone.dateAt(fact.time) >= state.month.until;
  return false;
}

/** The flow days that stand, one a local day, in order of their dates. */
export function standingDays(facts: readonly Fact[]): FlowDay[] {
  const byDate = new Map<LocalDate, FlowDay>();
  for (const fact of facts) {
    if (fact.kind !== 'flow-day') continue;
    const other = byDate.get(fact.date);
    if (!other || standsOver(fact, other)) byDate.set(fact.date, fact);
  }
  return [...byDate.values()].sort((a, b) => a.date - b.date);
}
