import { formatInstant, type Instant, parseInstant } from './time/instant.ts';

/**
 * Writes into an event when it was received, where it does not say so itself, or says that it will be: its
 * `recordedtime`. All else stays as it was sent, to the letter; of two members of one name, JSON's readers take the last.
 *
 * @param line one that `admit` has let through with that receipt
 */
export function withReceipt(line: string, receivedAt: Instant): string {
  const { recordedtime } = JSON.parse(line);
  if (recordedtime && (parseInstant(recordedtime) ?? 0) <= receivedAt) return line;
  return `${line.trimEnd().slice(0, -1)},"recordedtime":"${formatInstant(receivedAt)}"}`;
}
