import type { Confounder } from './confounders.ts';

/** Days of a simulation, both included, counted from 0 at its first. */
export interface Span {
  readonly first: number;
  readonly last: number;
}

/** What a household truly draws, day by day. Plain data, whether invented or taken from a real home. */
export interface WaterUse {
  /** US gallons of treated water, by day of the simulation. */
  readonly gallons: readonly number[];
  /** Days whose flow day never arrives, although water may have been drawn. */
  readonly unreported: ReadonlySet<number>;
  /** Runs of days on which nobody is at home; what is drawn then (nothing, or a trickle) is in `gallons`. */
  readonly absences: readonly Span[];
  readonly occupants?: number | undefined;
  /** Days with one long draw, a garden's, and its minutes. */
  readonly longDraws?: ReadonlyMap<number, number>;
  /** What happened in the house that may look like a fault. */
  readonly events?: readonly Confounder[];
}

/** Mean use of a day with somebody at home, US gallons. */
export function typicalGallons({ gallons, absences }: WaterUse): number {
  const away = daysOf(absences);
  const home = gallons.filter((_, day) => !away.has(day));
  return home.reduce((sum, each) => sum + each, 0) / Math.max(1, home.length);
}

/** The same household, but nobody is at home during `span`. */
export function emptied(use: WaterUse, span: Span): WaterUse {
  const within = (day: number) => day >= span.first && day <= span.last;
  const away = daysOf(use.absences);
  const days = use.gallons.map((_, day) => within(day) || away.has(day));
  return {
    ...use,
    gallons: use.gallons.map((each, day) => (within(day) ? 0 : each)),
    absences: runsOf(days),
  };
}

/** The runs of days that are true. */
export function runsOf(days: readonly boolean[]): Span[] {
  const runs: { first: number; last: number }[] = [];
  days.forEach((yes, day) => {
    if (!yes) return;
    const run = runs.at(-1);
    if (run?.last === day - 1) run.last = day;
    else runs.push({ first: day, last: day });
  });
  return runs;
}

function daysOf(spans: readonly Span[]): Set<number> {
  return new Set(
    spans.flatMap(({ first, last }) => Array.from({ length: last - first + 1 }, (_, i) => first + i)),
  );
}

/**
 * A unit is moved: the use of its home until a day, and from then on that of another, which typically draws a share of
 * what the first did.
 */
export function movedTo(
  first: WaterUse,
  second: WaterUse,
  { day, share }: { day: number; share: number },
): WaterUse {
  const factor = (share * typicalGallons(first)) / Math.max(1, typicalGallons(second));
  const isBefore = (each: number) => each < day;
  const pick = <Item>(index: number, one: Item, other: Item) => (isBefore(index) ? one : other);
  const away = { first: daysOf(first.absences), second: daysOf(second.absences) };
  const gallons = first.gallons.map((each, index) =>
    pick(index, each, factor * (second.gallons[index] ?? 0)),
  );
  return {
    ...first,
    gallons,
    unreported: new Set([
      ...[...first.unreported].filter(isBefore),
      ...[...second.unreported].filter((each) => !isBefore(each)),
    ]),
    absences: runsOf(gallons.map((_, index) => pick(index, away.first, away.second).has(index))),
    longDraws: new Map([
      ...[...(first.longDraws ?? [])].filter(([each]) => isBefore(each)),
      ...[...(second.longDraws ?? [])].filter(([each]) => !isBefore(each)),
    ]),
    events: [
      ...(first.events ?? []).flatMap((event) =>
        isBefore(event.first) ? { ...event, last: Math.min(event.last, day - 1) } : [],
      ),
      // How many lived there before tells nothing of the unit.
      ...(second.events ?? []).flatMap((event) => {
        const isPast = isBefore(event.name.startsWith('occupant-') ? event.first : event.last);
        return isPast ? [] : { ...event, first: Math.max(event.first, day) };
      }),
    ],
  };
}
