import type { Chance } from './chance.ts';
import type { Span } from './waterUse.ts';

/** Something harmless that may look like a fault. Days count from 0 at the first of the simulation. */
export interface Confounder extends Span {
  readonly name:
    | 'guests'
    | 'occupant-joins'
    | 'occupant-leaves'
    | 'irrigation'
    | 'moved'
    | 'meter-cleaned'
    | 'level-sensor-sticks'
    | 'regeneration-by-hand'
    | 'calendar-limit'
    | 'salt-in-vain'
    | 'settings-lost'
    | 'day-missing'
    | 'batches'
    | 'record-gap'
    | 'outage';
}

/** What of that is to befall one unit, beside what its household does and what only a fault brings about. */
export interface Confounders {
  /** Days on which the level sensor repeats its last reading. */
  readonly sticks: Span | undefined;
  /** From which day on a check-up cleans the meter, which then registers so much more than before, as a share. */
  readonly cleaned: { readonly day: number; readonly gain: number } | undefined;
  /** Days on which somebody starts a regeneration by hand. */
  readonly byHand: ReadonlySet<number>;
  /** The control regenerates after so many days at the latest. */
  readonly calendarDays: number | undefined;
  /** Its gateway delivers every so many days, the first time after a share of them. */
  readonly batches: { readonly days: number; readonly phase: number } | undefined;
  /** The day on which it was moved to another home, with what that uses over what the first used. */
  readonly moved: { readonly day: number; readonly share: number } | undefined;
  /** Days of which nothing that the unit sends ever arrives. */
  readonly missing: ReadonlySet<number>;
  /** When power comes back to a control that has forgotten its settings, and how many days later they are set again. */
  readonly settingsLost:
    | { readonly day: number; readonly hour: number; readonly setAfterDays: number }
    | undefined;
}

/** Nothing of it. */
export const NO_CONFOUNDERS: Confounders = {
  sticks: undefined,
  cleaned: undefined,
  byHand: new Set(),
  calendarDays: undefined,
  batches: undefined,
  moved: undefined,
  missing: new Set(),
  settingsLost: undefined,
};

/** How often a year, or with which share of the units. Invented, or from common sense. */
const A_YEAR = {
  sticks: 0.1,
  cleaned: 0.05,
  byHand: 0.2,
  moved: 0.02,
  missing: 1,
  settingsLost: 0.05,
} as const;
const SHARE = { calendar: 0.15, batches: 0.03, setAgainAtOnce: 0.5 } as const;
/** A unit is moved to a home of its size. */
const MOVED_SHARE = { least: 0.6, most: 1.4 } as const;
/** What a meter gains by cleaning, as a share. */
const GAIN = { least: 0.05, most: 0.15 } as const;

/** Draws what befalls a unit over so many days. */
export function drawConfounders(days: number, chance: Chance): Confounders {
  const once = (aYear: number) =>
    chance.happens((aYear * days) / 365) ? chance.whole(0, days - 1) : undefined;
  const often = (aYear: number) =>
    new Set(Array.from({ length: days }, (_, day) => day).filter(() => chance.happens(aYear / 365)));
  const sticksOn = once(A_YEAR.sticks);
  const sticksFor = chance.whole(3, 25);
  const cleanedOn = once(A_YEAR.cleaned);
  const byHand = often(A_YEAR.byHand);
  const calendarDays = chance.happens(SHARE.calendar) ? chance.whole(14, 30) : undefined;
  const batchDays = chance.happens(SHARE.batches) ? chance.whole(2, 4) : undefined;
  const movedOn = once(A_YEAR.moved);
  const share = chance.uniform(MOVED_SHARE.least, MOVED_SHARE.most);
  const gain = chance.uniform(GAIN.least, GAIN.most);
  const phase = chance.uniform();
  const missing = often(A_YEAR.missing);
  const lostOn = once(A_YEAR.settingsLost);
  const lostHour = chance.whole(5, 19);
  const setAfterDays = chance.happens(SHARE.setAgainAtOnce) ? 0 : chance.whole(1, 6);
  return {
    sticks:
      sticksOn === undefined
        ? undefined
        : { first: sticksOn, last: Math.min(days - 1, sticksOn + sticksFor) },
    cleaned: cleanedOn === undefined ? undefined : { day: cleanedOn, gain },
    byHand,
    calendarDays,
    batches: batchDays === undefined ? undefined : { days: batchDays, phase },
    moved: movedOn === undefined ? undefined : { day: movedOn, share },
    missing,
    settingsLost: lostOn === undefined ? undefined : { day: lostOn, hour: lostHour, setAfterDays },
  };
}
