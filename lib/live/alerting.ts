import type { AlertAct, ServiceVisit } from '../../shared/facts.ts';
import type { Unit } from '../../shared/registry.ts';
import type { Instant } from '../../shared/time/instant.ts';
import type { UnitState } from '../unit/state.ts';
import { clear, type Episode } from '../watch/episode.ts';
import { visitedBy } from '../watch/fieldOutcome.ts';
import type { WatchedKind } from '../watch/kind.ts';
import { KINDS } from '../watch/kinds.ts';
import { reopenMs, visitMs } from '../watch/lifecycle.ts';
import type { Rules } from '../watch/rules.ts';
import { type Watched, watchUnit } from '../watch/watchUnit.ts';
import { aboutAlert, type DoneAct } from './alertActs.ts';
import type { Head, OutOfService } from './head.ts';
import {
  alertIdOf,
  changesBetween,
  type EpisodeChange,
  sameIn,
  type Transition,
  transition,
} from './transitions.ts';

const NONE: readonly Episode[] = [];

/**
 * The alerts of a unit while it is followed on from a head: what is open and what was lately, whether the unit is in
 * service, and what is to be told of all that. It owns nothing of the head that it begins with.
 */
export class Alerting {
  open: readonly Episode[];
  recent: readonly Episode[];
  outOfService: OutOfService | null;
  /** Whether the last look after facts saw nothing: it was at all kinds, or those that it passed over had nothing to see. */
  #wasWell = false;
  readonly acts: { readonly alertId: string; readonly done: DoneAct }[] = [];
  readonly #unit: Unit;
  readonly #rules: Rules;
  readonly #changes: EpisodeChange[] = [];
  /** As many of those as have been asked for, as they are told. */
  readonly #told: Transition[] = [];
  /** Episodes that are over, by their ids: those that were lately when it began, and those that have ended since. */
  readonly #ended: Map<string, Episode>;

  constructor(unit: Unit, rules: Rules, { open, recent, outOfService }: Head) {
    this.#unit = unit;
    this.#rules = rules;
    this.open = open;
    this.recent = recent;
    this.outOfService = outOfService;
    this.#ended = new Map(recent.map((episode) => [alertIdOf(episode), episode]));
  }

  get ended(): Episode[] {
    return [...this.#ended.values()];
  }

  /** What is to be told of all changes; made only where it is asked for, since a replay tells nobody. */
  get transitions(): readonly Transition[] {
    for (const { episode, change, at } of this.#changes.slice(this.#told.length)) {
      this.#told.push(transition(this.#unit.unitId, episode, change, at));
    }
    return this.#told;
  }

  /**
   * Looks at the unit after facts. Where all was well before, it is enough to look at what these may have changed.
   *
   * @param heeding the kinds to which they may make a difference
   */
  lookAfter(state: UnitState, at: Instant, heeding: readonly WatchedKind<Rules>[]): void {
    const changed = this.look(state, at, this.#wasWell && this.open.length === 0 ? heeding : KINDS);
    this.#wasWell = !changed && this.open.length === 0 && this.outOfService === null;
  }

  /** Looks at the unit; returns whether anything has changed. While it is out of service nothing is seen. */
  look(state: UnitState, at: Instant, kinds: readonly WatchedKind<Rules>[]): boolean {
    const until = this.outOfService?.until ?? null;
    if (until !== null && until <= at) this.outOfService = null;
    const watched = this.outOfService
      ? suspended(this.open, at)
      : watchUnit(this.#unit, state, this.open, at, this.#rules, kinds, this.recent);
    if (watched.open === this.open && watched.ended.length === 0) return false;
    this.#changes.push(...changesBetween(this.open, watched, at, this.recent));
    this.open = watched.open;
    for (const episode of watched.ended) this.#ended.set(alertIdOf(episode), episode);
    if (this.recent.some((episode) => sameIn(this.open, episode))) this.#takeUp();
    if (watched.ended.length > 0) this.recent = [...this.recent, ...watched.ended];
    return true;
  }

  /** What was over and has come back is over no more. */
  #takeUp(): void {
    for (const episode of this.open) this.#ended.delete(alertIdOf(episode));
    this.recent = this.recent.filter((episode) => !sameIn(this.open, episode));
  }

  /** Lets go of episodes that neither come back nor are explained by a visit any more. */
  forget(at: Instant): void {
    if (this.recent.length === 0) return;
    const { lifecycle } = this.#rules;
    const since = at - Math.max(reopenMs(lifecycle), visitMs(lifecycle));
    if (this.recent.some(({ clearedAt }) => (clearedAt ?? at) < since)) {
      this.recent = this.recent.filter(({ clearedAt }) => (clearedAt ?? at) >= since);
    }
  }

  /** Takes in what somebody did; returns whether it is about the unit as a whole. */
  act(fact: AlertAct): boolean {
    const { act, by, known, until = null } = fact;
    switch (act) {
      case 'remove-from-service':
        // One that had ended before it became known never held.
        if (until === null || until > known) this.outOfService = { by, at: known, until };
        return true;
      case 'return-to-service':
        this.outOfService = null;
        return true;
      default: {
        const about = aboutAlert(fact);
        if (about) this.acts.push(about);
        return false;
      }
    }
  }

  /** Takes in what a technician found. */
  visit(fact: ServiceVisit): void {
    const lateMs = visitMs(this.#rules.lifecycle);
    this.open = mapped(this.open, (episode) => visitedBy(episode, fact, lateMs));
    this.recent = mapped(this.recent, (episode) => visitedBy(episode, fact, lateMs));
    for (const episode of this.recent) this.#ended.set(alertIdOf(episode), episode);
  }
}

/** What is open ends where its unit is taken out of service. */
function suspended(open: readonly Episode[], at: Instant): Watched {
  if (open.length === 0) return { open, ended: NONE };
  return { open: NONE, ended: open.map((episode) => clear(episode, at, 'out-of-service')) };
}

/** Episodes after something was done to each; the same list where nothing was. */
function mapped(episodes: readonly Episode[], change: (episode: Episode) => Episode): readonly Episode[] {
  const changed = episodes.map(change);
  return changed.some((episode, index) => episode !== episodes[index]) ? changed : episodes;
}
