import type { Power, Regeneration, Settings } from '../../../shared/facts.ts';
import type { Instant } from '../../../shared/time/instant.ts';
import {
  aroundTheClock,
  type ClockBelief,
  likelihoodOf,
  passTime,
  priorBelief,
  settled,
} from './clockBelief.ts';
import type { Memory, Seen } from './memory.ts';
import type { ClockRules } from './rules/clock.ts';

/** A time at which the control's clock gave itself away. */
export interface ClockReading {
  readonly at: Instant;
  /** Hours by which it was fast, -12 to 12; negative when slow. */
  readonly fastHours: number;
  /** By the start of a regeneration against its programmed hour, or by what a settings event showed. */
  readonly by: 'start' | 'report';
}

/** At which hour regenerations begin, and what the clock of the control shows. */
export interface Clock {
  /** Null before the first reading. */
  readonly belief: ClockBelief | null;
  /** The latest reading. */
  readonly last: ClockReading | null;
  /** The latest wrong readings since one was right, oldest first. */
  readonly wrong: readonly ClockReading[];
  /** How many of those there have been. */
  readonly wrongCount: number;
  /** The worst power failure since the last reading or visit. */
  readonly failure: PowerFailure | null;
  /** That before the first of the wrong readings. */
  readonly failureBefore: PowerFailure | null;
}

/** A power failure that is over. */
export interface PowerFailure {
  readonly at: Instant;
  readonly settingsKept: boolean;
}

const MS_A_DAY = 86_400_000;
const MINUTES_AN_HOUR = 60;
const WRONG_KEPT = 4;
const NONE: readonly ClockReading[] = [];

export const clock: Memory<Clock> = {
  start: () => ({ belief: null, last: null, wrong: [], wrongCount: 0, failure: null, failureBefore: null }),
  observe(kept, fact, seen) {
    switch (fact.kind) {
      case 'regeneration':
        return observeStart(kept, fact, seen);
      case 'settings':
        return observeSettings(kept, fact, seen);
      case 'power':
        return failed(kept, fact);
      case 'service-visit':
        return kept.belief
          ? { ...kept, belief: visited(kept.belief, seen.rules.clock), failure: null }
          : { ...kept, failure: null };
      default:
        return kept;
    }
  },
};

/** The start of a regeneration shows what the clock showed: its programmed hour. One of a pair begins at any hour. */
function observeStart(kept: Clock, regeneration: Regeneration, seen: Seen): Clock {
  const { unit, state } = seen;
  if (unit.alternating || regeneration.trigger === 'manual') return kept;
  const startHour = unit.zone.hourAt(regeneration.time);
  const fastHours = hundredths(aroundTheClock(state.programmed.regenerationHour - startHour));
  const rules = seen.rules.clock;
  const odd = Math.max(
    regeneration.trigger === 'unknown' ? rules.oddStartUnknown : rules.oddStart,
    oddAfter(kept.failure, rules),
  );
  return weigh(kept, { at: regeneration.time, fastHours, by: 'start' }, { odd, startHour }, rules);
}

/** A control that comes back may make up for a regeneration that was cut short. */
function oddAfter(failure: PowerFailure | null, rules: ClockRules): number {
  if (!failure) return 0;
  return failure.settingsKept ? rules.oddStartAfterFailure : rules.oddStartAfterLoss;
}

function failed(kept: Clock, { restoredAt, settingsKept }: Power): Clock {
  const wasWorse = kept.failure !== null && !kept.failure.settingsKept && settingsKept;
  return wasWorse ? kept : { ...kept, failure: { at: restoredAt, settingsKept } };
}

function observeSettings(kept: Clock, settings: Settings, seen: Seen): Clock {
  const known = reread(kept, settings, seen);
  if (settings.clockMinutes === undefined) return known;
  const localHour = seen.unit.zone.hourAt(settings.time);
  const fastHours = hundredths(aroundTheClock(settings.clockMinutes / MINUTES_AN_HOUR - localHour));
  const rules = seen.rules.clock;
  return weigh(
    known,
    { at: settings.time, fastHours, by: 'report' },
    { odd: rules.wrongReport, startHour: null },
    rules,
  );
}

/** Another hour on record explains starts that did not fit the old one. */
function reread(kept: Clock, settings: Settings, { unit, rules }: Seen): Clock {
  const { last } = kept;
  if (kept.wrongCount === 0 || last?.by !== 'start') return kept;
  const fastHours = aroundTheClock(settings.regenerationHour - unit.zone.hourAt(last.at));
  if (Math.abs(fastHours) > rules.clock.withinHours) return kept;
  return { ...kept, belief: priorBelief(rules.clock), wrong: [], wrongCount: 0 };
}

/** Takes in a reading: what may have happened since the last one, then how well each state of affairs explains it. */
function weigh(
  kept: Clock,
  reading: ClockReading,
  about: { odd: number; startHour: number | null },
  rules: ClockRules,
): Clock {
  const days = kept.last ? Math.max(0, reading.at - kept.last.at) / MS_A_DAY : 0;
  const before = passTime(kept.belief ?? priorBelief(rules), days, kept.failure, rules);
  const belief = settled(before, likelihoodOf(reading, kept.wrong.at(-1) ?? null, about, rules));
  const isWrong = Math.abs(reading.fastHours) > rules.withinHours;
  return {
    belief,
    last: reading,
    wrong: isWrong ? [...kept.wrong.slice(1 - WRONG_KEPT), reading] : NONE,
    wrongCount: isWrong ? kept.wrongCount + 1 : 0,
    failure: null,
    failureBefore: isWrong ? (kept.failure ?? kept.failureBefore) : null,
  };
}

/** A technician was there: a wrong clock is probably right now, and another hour may be programmed. */
function visited(belief: ClockBelief, rules: ClockRules): ClockBelief {
  const stays = 1 - rules.visitSetsRight;
  const changed = belief.changed + belief.right * rules.changedAtVisit;
  const twelve = belief.twelve * stays;
  const drift = belief.drift * stays;
  return { right: 1 - changed - twelve - drift, twelve, drift, changed };
}

/** Half a minute tells nothing, and what is kept with every unit is kept short. */
function hundredths(hours: number): number {
  return Math.round(hours * 100) / 100;
}
