import type { Fact } from '../../shared/facts.ts';
import type { Unit } from '../../shared/registry.ts';
import type { Instant } from '../../shared/time/instant.ts';
import type { LocalDate } from '../../shared/time/localDate.ts';
import type { MonthAccount } from '../salt/monthAccount.ts';
import { inOrder, UnitHistory } from '../unit/history.ts';
import type { UnitState } from '../unit/state.ts';
import { copyState } from '../unit/state.ts';
import type { Episode } from '../watch/episode.ts';
import type { WatchedKind } from '../watch/kind.ts';
import { CLOCK_KINDS, KINDS, kindsHeeding, wakesAt } from '../watch/kinds.ts';
import type { Rules } from '../watch/rules.ts';
import type { DoneAct } from './alertActs.ts';
import { Alerting } from './alerting.ts';
import type { Head, JournalEntry, Place } from './head.ts';
import { noonAfter } from './noons.ts';
import type { Transition } from './transitions.ts';

/** Facts between two checkpoints: few, so that a late fact refolds little; enough that putting one away costs little. */
const FACTS_A_CHECKPOINT = 16;

/** What facts have made of a unit. */
export interface Followed {
  readonly head: Head;
  /** Heads put away on the way, each under its key, oldest first. */
  readonly checkpoints: readonly { readonly key: string; readonly head: Head }[];
  /** Episodes that are over: those of the beginning that were so lately, and all that have ended since. */
  readonly ended: readonly Episode[];
  readonly transitions: readonly Transition[];
  /** What has been done about alerts, whether they are in the head or long over. */
  readonly acts: readonly { readonly alertId: string; readonly done: DoneAct }[];
  /** Accounts of the months that facts fell into: closed ones, and that of the month that runs. */
  readonly months: readonly MonthAccount[];
}

export interface FollowOptions {
  readonly rules: Rules;
  /** Names a head to be put away, by its content; without it none is. */
  readonly keyOf?: ((head: Head) => string) | undefined;
  /** How far the clock has run: local noons up to then are looked at, though no fact comes. By default no further than facts. */
  readonly until?: Instant | undefined;
  /** Called when a local day is first counted, with the state then. */
  readonly onDay?: ((state: UnitState, date: LocalDate) => void) | undefined;
}

/** Facts in the order in which they became known; those of one instant in the order of their story. */
export function byKnown(a: Fact, b: Fact): number {
  return a.known - b.known || inOrder(a, b);
}

/**
 * Follows a unit on from `base` as facts become known: folds them, looks at the unit after each instant, at each local
 * noon in between and where its time out of service ends, and says what changed. What is done about an alert is no
 * reason to look: alerts do not hang on when somebody acknowledges one. Pure, and the only way in which a unit
 * is followed: live, in a replay, and after a restore. The facts are those known after `base` was, each id once, sorted
 * by {@link byKnown}; none stands before `base` in the story.
 */
export function follow(unit: Unit, base: Head, facts: readonly Fact[], options: FollowOptions): Followed {
  const { rules, keyOf, until, onDay } = options;
  const history = new UnitHistory(unit, rules.fold, copyState(base.state), facts);
  const alerting = new Alerting(unit, rules, base);
  const checkpoints: { key: string; head: Head }[] = [];
  let { firstDate, previous, knownUntil } = base;
  let furthest = base.place;
  let journal: JournalEntry[] = [...base.journal];
  const headNow = (state: UnitState): Head => {
    const { open, recent, outOfService } = alerting;
    const place = furthest && placeOf(furthest);
    return { state, open, recent, outOfService, knownUntil, place, firstDate, journal, previous };
  };
  // The first noon that has not been looked at, as long as it is after all that is known.
  let noon: Instant = Number.NEGATIVE_INFINITY;
  const passTime = (upTo: Instant) => {
    if (knownUntil === null) return;
    if (alerting.outOfService) {
      const back = alerting.outOfService.until;
      if (back === null || back > upTo) return;
      alerting.look(history.state, back, KINDS);
      knownUntil = back;
    }
    const wakes = wakesAt(history.state, rules);
    if (wakes > upTo) return;
    const since = Math.max(knownUntil, wakes - 1);
    if (noon <= since) noon = noonAfter(unit.zone, since);
    for (; noon <= upTo; noon = noonAfter(unit.zone, noon)) {
      // Where a noon changes nothing, whoever goes on from here looks at it again and finds the same.
      if (alerting.look(history.state, noon, CLOCK_KINDS)) knownUntil = noon;
    }
  };
  // What is to be looked at after the facts of one instant; null where none is about the unit.
  let heeding: readonly WatchedKind<Rules>[] | null = null;
  let known: Instant | undefined;
  for (let index = 0; index < facts.length; index++) {
    const fact = facts[index] as Fact;
    // At a noon at which a fact becomes known, the look after the fact will do.
    if (fact.known !== known) passTime(fact.known - 1);
    known = fact.known;
    if (keyOf) journal.push([fact.id, known]);
    if (fact.kind === 'alert-act') {
      if (alerting.act(fact)) heeding = KINDS;
    } else {
      const isNewDay = onDay !== undefined && fact.kind === 'flow-day' && !history.knowsDayOf(fact);
      history.learn(fact);
      const isNext = furthest === null || inOrder(furthest, fact) < 0;
      // A late fact folds those after it anew, whatever their kinds.
      heeding = isNext && heeding === null ? kindsHeeding(fact.kind) : KINDS;
      if (isNext) furthest = fact;
      if (fact.kind === 'service-visit') alerting.visit(fact);
      if (fact.kind === 'flow-day') {
        if (firstDate === null || fact.date < firstDate) firstDate = fact.date;
        if (isNewDay) onDay(history.state, history.state.lastReported ?? fact.date);
      }
    }
    // What becomes known at one instant is judged together, however it was batched.
    if (facts[index + 1]?.known === known) continue;
    if (heeding) alerting.lookAfter(history.state, known, heeding);
    else passTime(known);
    heeding = null;
    alerting.forget(known);
    knownUntil = known;
    if (keyOf && journal.length >= FACTS_A_CHECKPOINT) {
      const head = headNow(copyState(history.state));
      previous = keyOf(head);
      checkpoints.push({ key: previous, head });
      journal = [];
    }
  }
  if (until !== undefined) passTime(until);
  const { ended, acts } = alerting;
  return {
    head: headNow(history.state),
    checkpoints,
    ended,
    get transitions() {
      return alerting.transitions;
    },
    acts,
    months: history.accounts,
  };
}

/**
 * Whether a unit can be followed on from `base` with `fact`: it became known later, and stands later in the story than
 * all that `base` has folded. A flow day must belong to a later day, or it might be a correction.
 */
export function goesOnFrom(base: Head, fact: Fact): boolean {
  return (base.knownUntil === null || fact.known > base.knownUntil) && standsAfter(base.place, fact);
}

/**
 * Whether a fact's place is beyond another, whatever the fact is known to correct. What people do about alerts has no
 * place in the story: it holds from when it is known.
 */
export function standsAfter(place: Place | null, fact: Fact): boolean {
  if (place === null || fact.kind === 'alert-act') return true;
  return fact.kind === 'flow-day' ? fact.at > place.at : inOrder(place, fact) < 0;
}

/** As much of a fact as its order hangs on. */
function placeOf({ kind, at, time, id }: Place): Place {
  return { kind, at, time, id };
}
