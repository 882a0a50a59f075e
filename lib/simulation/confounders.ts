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
    | 'batches'
    | 'outage';
}

/** What of that befalls one unit beside what its household does. */
export interface Confounders {
  readonly told: readonly Confounder[];
  /** Days on which the level sensor repeats its last reading. */
  readonly sticks: Span | undefined;
  /** A day on which a check-up cleans the meter, whose peaks are higher from then on. */
  readonly cleanedOn: number | undefined;
  /** Days on which somebody starts a regeneration by hand. */
  readonly byHand: ReadonlySet<number>;
  /** The control regenerates after so many days at the latest. */
  readonly calendarDays: number | undefined;
  /** Its gateway delivers every so many days. */
  readonly batchDays: number;
  /** The day on which it was moved to another home, with what that uses over what the first used. */
  readonly moved: { readonly day: number; readonly share: number } | undefined;
}

/** How often a year, or with which share of the units. Invented, or from common sense. */
const A_YEAR = { sticks: 0.1, cleaned: 0.05, byHand: 0.2, moved: 0.02 } as const;
const SHARE = { calendar: 0.15, batches: 0.03 } as const;
/** A unit is moved to a home of its size. */
const MOVED_SHARE = { least: 0.6, most: 1.4 } as const;

/** Draws what befalls a unit over so many days. */
export function drawConfounders(days: number, chance: Chance): Confounders {
  const years = days / 365;
  const once = (aYear: number) => (chance.happens(aYear * years) ? chance.whole(0, days - 1) : undefined);
  const sticksOn = once(A_YEAR.sticks);
  const sticksFor = chance.whole(3, 25);
  const sticks =
    sticksOn === undefined ? undefined : { first: sticksOn, last: Math.min(days - 1, sticksOn + sticksFor) };
  const cleanedOn = once(A_YEAR.cleaned);
  const byHand = new Set<number>();
  for (let day = 0; day < days; day++) if (chance.happens(A_YEAR.byHand / 365)) byHand.add(day);
  const calendarDays = chance.happens(SHARE.calendar) ? chance.whole(14, 30) : undefined;
  const batchDays = chance.happens(SHARE.batches) ? chance.whole(2, 4) : 1;
  const movedOn = once(A_YEAR.moved);
  const share = chance.uniform(MOVED_SHARE.least, MOVED_SHARE.most);
  const from = (name: Confounder['name'], first: number, last = days - 1): Confounder => ({
    name,
    first,
    last,
  });
  return {
    told: [
      ...(sticks ? [from('level-sensor-sticks', sticks.first, sticks.last)] : []),
      ...(cleanedOn === undefined ? [] : [from('meter-cleaned', cleanedOn)]),
      ...[...byHand].map((day) => from('regeneration-by-hand', day, day)),
      ...(calendarDays === undefined ? [] : [from('calendar-limit', 0)]),
      ...(batchDays > 1 ? [from('batches', 0)] : []),
      ...(movedOn === undefined ? [] : [from('moved', movedOn)]),
    ],
    sticks,
    cleanedOn,
    byHand,
    calendarDays,
    batchDays,
    moved: movedOn === undefined ? undefined : { day: movedOn, share },
  };
}
