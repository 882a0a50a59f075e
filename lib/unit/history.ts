import type { Fact, FlowDay } from '../../shared/facts.ts';
import type { Unit } from '../../shared/registry.ts';
import type { Instant } from '../../shared/time/instant.ts';
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

/**
 * Facts between two recent snapshots, and how many of these are kept: most late facts come within a few days, and most
 * of those after the next one or two, so that few need be folded again.
 */
const FACTS_A_SNAPSHOT = 8;
const SNAPSHOTS_KEPT = 4;
/** How many are kept where it is known which facts will come late: a meter may have two weeks to tell at once. */
const AWAITED_KEPT = 16;

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
  readonly count: number;
  /** Never written to: two may have the same one. */
  readonly state: UnitState;
}

/**
 * The instants at which facts will stand that come late or correct a day, of facts in the order in which they become
 * known; rising.
 */
function lateAmong(facts: readonly Fact[]): Instant[] {
  const late: Instant[] = [];
  let furthest: Fact | null = null;
  let newestDay: LocalDate = Number.NEGATIVE_INFINITY;
  for (let index = 0; index < facts.length; index++) {
    const fact = facts[index] as Fact;
    // What is done about alerts has no place in the story.
    if (fact.kind === 'alert-act') continue;
    const isKnownDay = fact.kind === 'flow-day' && fact.date <= newestDay;
    if (isKnownDay || (furthest !== null && inOrder(furthest, fact) > 0)) late.push(fact.at);
    else furthest = fact;
    if (fact.kind === 'flow-day' && !isKnownDay) newestDay = fact.date;
  }
  return late.sort((a, b) => a - b);
}

/** One before the fact that closes a month, with the accounts that this fact closes. */
interface MonthEnd extends Snapshot {
  readonly closed: readonly MonthAccount[];
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
  /** The last local day of which it knows a flow day. */
  #newestDay: LocalDate = Number.NEGATIVE_INFINITY;
  /** One at the end of each month. */
  readonly #months: MonthEnd[] = [];
  /** The latest ones, oldest first. */
  readonly #recent: Snapshot[] = [];
  /** Where facts will stand that are to come late, rising; null where that is not known. */
  readonly #awaited: Instant[] | null;
  #state: UnitState;

  /**
   * @param start the fold of all that stands before, where the history does not begin with the unit
   * @param coming what it is going to learn, in that order, where that is known: snapshots are then taken just where a late
   * fact will fold from, and nowhere else. It makes no difference to the state.
   */
  constructor(
    unit: Unit,
    rules: FoldRules,
    start: UnitState = newUnitState(unit, rules),
    coming: readonly Fact[] | null = null,
  ) {
    this.#unit = unit;
    this.#rules = rules;
    this.#start = start;
    this.#state = copyState(start);
    this.#awaited = coming && lateAmong(coming);
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

  /** Whether it knows a flow day of the same local day. */
  knowsDayOf(day: FlowDay): boolean {
    return this.#placeOfDay(day) >= 0;
  }

  /**
   * Learns a fact. Returns whether it changes anything: a flow day against which another stands does not.
   */
  learn(fact: Fact): boolean {
    const facts = this.#facts;
    if (fact.kind === 'flow-day') {
      const place = this.#placeOfDay(fact);
      if (place >= 0) return this.#correct(place, fact);
      this.#newestDay = Math.max(this.#newestDay, fact.date);
    }
    const last = facts[facts.length - 1];
    if (last === undefined || inOrder(last, fact) <= 0) {
      facts.push(fact);
      this.#apply(fact, facts.length - 1);
      return true;
    }
    const place = this.#placeOf(fact);
    facts.splice(place, 0, fact);
    this.#hasCome(fact);
    return this.#refoldFrom(place);
  }

  /** A late fact is awaited no more. */
  #hasCome({ at }: Fact) {
    const index = this.#awaited?.indexOf(at) ?? -1;
    if (index >= 0) this.#awaited?.splice(index, 1);
  }

  /** Whether a late fact is to come that stands between the fact before a place and that fact there. */
  #isFoldedFrom(index: number, fact: Fact): boolean {
    const awaited = this.#awaited;
    if (awaited === null) return index % FACTS_A_SNAPSHOT === 0;
    if (awaited.length === 0) return false;
    const before = index > 0 ? (this.#facts[index - 1] as Fact).at : Number.NEGATIVE_INFINITY;
    if (before === fact.at) return false;
    let low = 0;
    let high = awaited.length;
    while (low < high) {
      const middle = (low + high) >> 1;
      if ((awaited[middle] as Instant) <= before) low = middle + 1;
      else high = middle;
    }
    return low < awaited.length && (awaited[low] as Instant) <= fact.at;
  }

  #correct(place: number, day: FlowDay): boolean {
    this.#hasCome(day);
    const other = this.#facts[place];
    if (other?.kind === 'flow-day' && !standsOver(day, other)) return false;
    this.#facts[place] = day;
    return this.#refoldFrom(place);
  }

  #apply(fact: Fact, index: number) {
    const isEnd = closesMonth(this.#unit, this.#state, fact);
    const isRecent = this.#isFoldedFrom(index, fact);
    if (!isEnd && !isRecent) {
      fold(this.#unit, this.#state, fact, this.#rules);
      return;
    }
    const state = copyState(this.#state);
    const closed = fold(this.#unit, this.#state, fact, this.#rules);
    if (isEnd) this.#months.push({ count: index, state, closed });
    if (!isRecent) return;
    if (this.#recent.length >= (this.#awaited ? AWAITED_KEPT : SNAPSHOTS_KEPT)) this.#recent.shift();
    this.#recent.push({ count: index, state });
  }

  #refoldFrom(place: number): true {
    dropBeyond(this.#months, place);
    dropBeyond(this.#recent, place);
    const month = this.#months[this.#months.length - 1];
    const recent = this.#recent[this.#recent.length - 1];
    const from = month && recent ? (recent.count > month.count ? recent : month) : (recent ?? month);
    this.#state = copyState(from ? from.state : this.#start);
    const start = from ? from.count : 0;
    // Taken again where it was; the one that is kept must not be there twice.
    dropBeyond(this.#months, start - 1);
    dropBeyond(this.#recent, start - 1);
    for (let index = start; index < this.#facts.length; index++) {
      const fact = this.#facts[index];
      if (fact) this.#apply(fact, index);
    }
    return true;
  }

  /** Where the flow day of the same local day stands; -1 where there is none, as there mostly is not. */
  #placeOfDay({ date, at }: FlowDay): number {
    if (date > this.#newestDay) return -1;
    // Of all that stands at the end of that day flow days come first.
    let place = this.#placeOf({ kind: 'flow-day', at, time: Number.NEGATIVE_INFINITY, id: '' });
    for (; ; place++) {
      const fact = this.#facts[place];
      if (fact?.kind !== 'flow-day' || fact.at !== at) return -1;
      if (fact.date === date) return place;
    }
  }

  #placeOf(fact: Place): number {
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

/** Lets go of the snapshots, which stand by their counts, that have folded more than `count` facts. */
function dropBeyond(snapshots: Snapshot[], count: number) {
  while ((snapshots[snapshots.length - 1]?.count ?? Number.NEGATIVE_INFINITY) > count) snapshots.pop();
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
