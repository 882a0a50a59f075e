import { formatLocalDate, type LocalDate, parseLocalDate } from '../../../shared/time/localDate.ts';
import { monthOf } from '../../../shared/time/month.ts';

const DAY_MS = 86_400_000;
/** More labels than this run into each other on a telephone. */
const MOST_TICKS = 4;
/** Further to the right a label has no room, percent. */
const LAST_TICK = 86;

/** A stretch of time drawn from 0 to 100 %, so that a drawing is as wide as its page and its text keeps its size. */
export interface Timeline {
  /** Where an instant stands, in percent; those before and after stand at the ends. */
  at(instant: number): number;
  /** The beginnings of some months, with their names. */
  readonly ticks: readonly { readonly percent: number; readonly label: string }[];
}

/** The time from one instant to a later one. */
export function timelineOf(from: number, to: number): Timeline {
  const span = Math.max(to - from, DAY_MS);
  const at = (instant: number) => Math.min(100, Math.max(0, ((instant - from) / span) * 100));
  const months = monthsBetween(from, from + span);
  const every = Math.ceil(months.length / MOST_TICKS);
  const ticks = months
    .filter((_, index) => index % every === 0)
    .map((date) => ({ percent: at(date * DAY_MS), label: monthOf(date) }))
    .filter(({ percent: place }) => place <= LAST_TICK);
  return { at, ticks };
}

/** First days of months, as dates in UTC: to the width of a line that is every zone. */
function monthsBetween(from: number, to: number): LocalDate[] {
  const months: LocalDate[] = [];
  for (let date = Math.ceil(from / DAY_MS); date * DAY_MS <= to; date += 1) {
    if (formatLocalDate(date).endsWith('-01')) months.push(date);
  }
  return months;
}

/** The instant at which a day begins in UTC. */
export function instantOf(day: string): number {
  return (parseLocalDate(day) ?? 0) * DAY_MS;
}

/** A share of the width of a drawing. */
export function percent(value: number): string {
  return `${value.toFixed(2)}%`;
}
