import type { FlowDay, Regeneration, ServiceVisit } from '../../../shared/facts.ts';
import type { Instant } from '../../../shared/time/instant.ts';
import { believedGallons } from '../control.ts';
import { type CycleBelief, mended, newCycleBelief, settingsKnown, weighCycle } from './cycleBelief.ts';
import {
  byTheHour,
  type EndedCycle,
  endedCycle,
  isByCount,
  isEarly,
  onItsDay,
  passedGallons,
  wasDue,
} from './endedCycle.ts';
import type { Memory, Seen } from './memory.ts';
import type { CyclesRules } from './rules/cycles.ts';

/** How the last cycles of the bed ended. */
export interface Cycles {
  readonly belief: CycleBelief;
  /** The cycle that ended last, until the flow day of its end is known: what was drawn before it counts. */
  readonly pending: EndedCycle | null;
  /** The last that was judged, and the last early one. */
  readonly latest: EndedCycle | null;
  readonly lastEarly: { readonly at: Instant; readonly byHand: boolean } | null;
  /** Early ones since all was well, and those in a row that ended when due by what is known to be programmed. */
  readonly earlyCount: number;
  readonly dueInARow: number;
  readonly lastAt: Instant | null;
  readonly visitedAt: Instant | null;
  /** Whether the unit has ever reported its settings. */
  readonly tellsSettings: boolean;
  /** Whether settings were lost in a power failure since the last regeneration: the control may have begun anew. */
  readonly lost: boolean;
}

const HOUR = 3_600_000;
/** A regeneration this close to a visit is the technician's. */
const VISIT_HOURS = 36;
/** Odd things come in pairs within this time. */
const AGAIN_DAYS = 30;
/** A cycle whose use is known no better than to this share of the capacity is not judged. */
const MOST_DOUBT = 0.2;

export const cycles: Memory<Cycles> = {
  start: () => ({
    belief: newCycleBelief(),
    pending: null,
    latest: null,
    lastEarly: null,
    earlyCount: 0,
    dueInARow: 0,
    lastAt: null,
    visitedAt: null,
    tellsSettings: false,
    lost: false,
  }),
  observe(kept, fact, seen) {
    switch (fact.kind) {
      case 'regeneration':
        return regenerated(kept, fact, seen);
      case 'flow-day':
        return kept.pending ? dayKnown(kept, kept.pending, fact, seen) : kept;
      case 'service-visit':
        return visited(kept, fact, seen);
      case 'settings':
        return settingsTold(kept, seen);
      case 'power':
        return fact.settingsKept ? kept : { ...kept, lost: true };
      default:
        return kept;
    }
  },
};

/** A copy that a fact is written to. */
type Draft = { -readonly [Key in keyof Cycles]: Cycles[Key] };

/** Named one by one: a spread costs twenty times as much. */
function copyOf(kept: Cycles): Draft {
  return {
    belief: kept.belief,
    pending: kept.pending,
    latest: kept.latest,
    lastEarly: kept.lastEarly,
    earlyCount: kept.earlyCount,
    dueInARow: kept.dueInARow,
    lastAt: kept.lastAt,
    visitedAt: kept.visitedAt,
    tellsSettings: kept.tellsSettings,
    lost: kept.lost,
  };
}

function regenerated(kept: Cycles, regeneration: Regeneration, seen: Seen): Cycles {
  const next = copyOf(kept);
  if (kept.pending) judge(next, kept.pending, seen);
  // What the first one ended is not known whole, nor what a control that lost its settings had counted.
  const isKnown = kept.lastAt !== null && !kept.lost;
  next.pending = isKnown ? endedCycle(regeneration, kept.lastAt, seen) : null;
  next.lastAt = regeneration.time;
  next.lost = false;
  return next;
}

function dayKnown(kept: Cycles, pending: EndedCycle, day: FlowDay, seen: Seen): Cycles {
  const next = copyOf(kept);
  judge(next, onItsDay(pending, day, seen), seen);
  next.pending = null;
  return next;
}

function judge(next: Draft, cycle: EndedCycle, seen: Seen) {
  const rules = seen.rules.cycles;
  const whole = seen.state.bed.capacityGrains / seen.state.compensatedHardnessGpg;
  const doubtGallons = byTheHour(cycle, seen);
  if (cycle.isGuessed || doubtGallons > MOST_DOUBT * whole) return;
  const { availableGallons, usedGallons, reserveGallons, trigger } = cycle;
  const end = usedGallons + reserveGallons;
  const passed = passedGallons(cycle, seen);
  const early = isEarly(cycle, rules.inTimeShare);
  if (isExcused(next, cycle, early, rules)) return;
  const belief = weighCycle(
    next.belief,
    {
      trigger,
      days: cycle.days,
      daysSinceLast: next.latest ? (cycle.at - next.latest.at) / (24 * HOUR) : cycle.days,
      usedShare: availableGallons > 0 ? end / availableGallons : 1,
      endShare: end / whole,
      passedShare: passed / whole,
      programmedShare: cycle.programmedGallons / whole,
      doubt: doubtGallons / whole,
      again: isAgain(next, cycle),
      tellsSettings: next.tellsSettings,
    },
    rules,
  );
  const isWell = !early && belief.fine > 0.5;
  next.belief = belief;
  next.latest = cycle;
  if (early) next.lastEarly = { at: cycle.at, byHand: trigger === 'manual' };
  next.earlyCount = isWell ? 0 : next.earlyCount + (early ? 1 : 0);
  if (isByCount(cycle)) next.dueInARow = wasDue(cycle, passed) ? next.dueInARow + 1 : 0;
}

/** Those that tell nothing of waste. */
function isExcused({ visitedAt }: Cycles, cycle: EndedCycle, early: boolean, rules: CyclesRules): boolean {
  const { days, at } = cycle;
  const byTechnician = visitedAt !== null && Math.abs(at - visitedAt) <= VISIT_HOURS * HOUR;
  const isStanding = isByCount(cycle) ? early && days >= rules.lowUseDays : days >= rules.calendarDays;
  return byTechnician || isStanding;
}

function isAgain({ lastEarly }: Cycles, { at, trigger }: EndedCycle): boolean {
  if (!lastEarly || at - lastEarly.at > AGAIN_DAYS * 24 * HOUR) return false;
  return lastEarly.byHand === (trigger === 'manual');
}

/** A technician was there: whatever it was is probably mended. */
function visited(kept: Cycles, { time }: ServiceVisit, { rules }: Seen): Cycles {
  const belief = mended(kept.belief, 1 - rules.cycles.visitMends);
  return { ...kept, belief, visitedAt: time, earlyCount: 0 };
}

/** The settings are read from the control: what it was thought to be set to instead is known now. */
function settingsTold(kept: Cycles, { state }: Seen): Cycles {
  const known = kept.latest?.programmedGallons;
  const isNew = known !== undefined && Math.abs(known - believedGallons(state.programmed)) > 1;
  return {
    ...kept,
    belief: settingsKnown(kept.belief),
    dueInARow: isNew ? 0 : kept.dueInARow,
    tellsSettings: true,
  };
}
