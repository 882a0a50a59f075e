import { type Instant, parseInstant } from '../../shared/time/instant.ts';
import { parseLocalDate, weekdayOf } from '../../shared/time/localDate.ts';
import { zoneNamed } from '../../shared/time/zone.ts';

const WEEKDAYS = ['Sun', 'Mon', 'Tue', 'Wed', 'Thu', 'Fri', 'Sat'];
const MONTHS = ['Jan', 'Feb', 'Mar', 'Apr', 'May', 'Jun', 'Jul', 'Aug', 'Sep', 'Oct', 'Nov', 'Dec'];
const MINUTE = 60_000;

/** `Tue 17 Mar 2026`: what nobody takes for another day, wherever they come from. A text that is no date stays as it is. */
export function dated(text: string): string {
  const date = parseLocalDate(text);
  return date === undefined ? text : `${WEEKDAYS[weekdayOf(date)]} ${dayAndMonth(text)} ${text.slice(0, 4)}`;
}

/** `17 Mar`. */
export function dayAndMonth(text: string): string {
  return `${Number(text.slice(8))} ${MONTHS[Number(text.slice(5, 7)) - 1]}`;
}

/** `Tue 17 Mar 2026, 06:00` by the clocks of a zone. */
export function timed(instant: string, timeZone: string): string {
  const at: Instant = parseInstant(instant) ?? 0;
  const local = new Date(at + (zoneNamed(timeZone)?.offsetAt(at) ?? 0));
  const rounded = new Date(Math.floor(local.getTime() / MINUTE) * MINUTE).toISOString();
  return `${dated(rounded.slice(0, 10))}, ${rounded.slice(11, 16)}`;
}
