import type { Instant } from '../../../shared/time/instant.ts';
import { type Month, monthsLater } from '../../../shared/time/month.ts';

const NAMES = [
  ...['January', 'February', 'March', 'April', 'May', 'June'],
  ...['July', 'August', 'September', 'October', 'November', 'December'],
];

/** `March 2026`. */
export function monthInWords(month: Month): string {
  return `${NAMES[Number(month.slice(5)) - 1]} ${month.slice(0, 4)}`;
}

/** `Mar`. */
export function shortMonth(month: Month): string {
  return NAMES[Number(month.slice(5)) - 1]?.slice(0, 3) ?? '';
}

/** A month and the twelve before it, the earliest first. */
export function yearUpTo(month: Month): Month[] {
  return Array.from({ length: 13 }, (_, index) => monthsLater(month, index - 12));
}

/** `2026-04-02 05:00 UTC`. */
export function instantInWords(at: Instant): string {
  return `${new Date(at).toISOString().slice(0, 16).replace('T', ' ')} UTC`;
}
