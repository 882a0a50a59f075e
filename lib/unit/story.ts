import type { Fact } from '../../shared/facts.ts';
import type { Unit } from '../../shared/registry.ts';
import type { Instant } from '../../shared/time/instant.ts';
import type { LocalDate } from '../../shared/time/localDate.ts';
import type { FoldRules } from './foldRules.ts';
import { inOrder, UnitHistory } from './history.ts';
import { controlCapacityGallons, remainingGallons } from './outlook.ts';
import type { UnitState } from './state.ts';

/** A local day of a unit that was reported, at its end. */
export interface StoryDay {
  readonly date: LocalDate;
  /** Treated water, US gallons. */
  readonly gallons: number;
  /** What the bed truly has left, US gallons; negative when it has run out. */
  readonly remainingGallons: number;
  /** What the control believes is left, US gallons; null where it counts nothing. */
  readonly believedGallons: number | null;
  /** Whether the bed had run out by then, so that water was hard for some of the day. */
  readonly isHard: boolean;
}

/** A regeneration, with what is known of its salt today. */
export interface StoryRegeneration {
  readonly at: Instant;
  readonly date: LocalDate;
  readonly trigger: Extract<Fact, { kind: 'regeneration' }>['trigger'];
  /** Probability that it drew its salt, 0 to 1. */
  readonly drewSalt: number;
  /** Salt that it drew by the level of the tank, lb; null where no level tells. */
  readonly measuredLb: number | null;
  /** Salt that it is expected to have drawn, lb. */
  readonly expectedLb: number;
}

/** What happened to a unit, day by day. */
export interface Story {
  readonly days: readonly StoryDay[];
  readonly regenerations: readonly StoryRegeneration[];
  readonly visits: readonly Extract<Fact, { kind: 'service-visit' }>[];
}

/**
 * Tells a unit's story as it is known today: every fact in the order in which it happened, so that a correction shows
 * where it belongs and not when it came. A day without a report is left out, not zero.
 *
 * @param facts those that stand, in any order, each id once
 * @param from the first local day that is told; the fold runs from the beginning all the same
 */
export function storyOf(unit: Unit, facts: readonly Fact[], rules: FoldRules, from: LocalDate): Story {
  const history = new UnitHistory(unit, rules);
  const days = new Map<LocalDate, StoryDay>();
  const regenerations: StoryRegeneration[] = [];
  const visits: Story['visits'][number][] = [];
  for (const fact of [...facts].sort(inOrder)) {
    history.learn(fact);
    const { state } = history;
    switch (fact.kind) {
      case 'flow-day':
        days.set(fact.date, dayOf(fact.date, fact.gallons, state));
        break;
      case 'regeneration':
        regenerations.push(regenerationOf(unit, fact, state));
        break;
      case 'service-visit':
        visits.push(fact);
        break;
    }
    // What later readings say of the last regeneration.
    const last = regenerations.at(-1);
    if (last && last.at === state.lastRegeneration) regenerations.splice(-1, 1, { ...last, ...drawn(state) });
  }
  const isTold = (date: LocalDate) => date >= from;
  return {
    days: [...days.values()].filter(({ date }) => isTold(date)),
    regenerations: regenerations.filter(({ date }) => isTold(date)),
    visits: visits.filter(({ at }) => isTold(unit.zone.dateAt(at))),
  };
}

function dayOf(date: LocalDate, gallons: number, state: UnitState): StoryDay {
  const believed = controlCapacityGallons(state) - state.count.gallons;
  return {
    date,
    gallons,
    remainingGallons: remainingGallons(state),
    believedGallons: Number.isFinite(believed) ? believed : null,
    isHard: state.bed.exhaustedOn !== null,
  };
}

function regenerationOf(
  unit: Unit,
  fact: Extract<Fact, { kind: 'regeneration' }>,
  state: UnitState,
): StoryRegeneration {
  const { saltBeforeLb, saltAfterLb } = fact;
  const isMeasured = saltBeforeLb !== undefined && saltAfterLb !== undefined;
  return {
    at: fact.at,
    date: unit.zone.dateAt(fact.at),
    trigger: fact.trigger,
    measuredLb: isMeasured ? Math.max(0, saltBeforeLb - saltAfterLb) : null,
    ...drawn(state),
  };
}

function drawn({ draw }: UnitState): Pick<StoryRegeneration, 'drewSalt' | 'expectedLb'> {
  const drewSalt = draw.belief.drawn;
  return { drewSalt, expectedLb: drewSalt * draw.usualSaltLb };
}
