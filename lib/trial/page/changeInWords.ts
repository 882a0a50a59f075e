import { courseOf } from '../course.ts';
import type { TrialRow, TrialSide } from '../row.ts';

/** What becomes of an alert, in a sentence. */
export function changeInWords(row: TrialRow): string {
  const { kind, before, after } = row;
  if (before && after)
    return `${kind} of ${day(before.raisedAt)}: ${differencesOf(row, before, after).join('; ')}.`;
  if (before)
    return `${kind} (${before.severity}) of ${day(before.raisedAt)} would not be raised. ${before.summary}`;
  if (after) return `${kind} (${after.severity}) would be raised on ${day(after.raisedAt)}. ${after.summary}`;
  return kind;
}

function differencesOf({ moves, raisedDays }: TrialRow, before: TrialSide, after: TrialSide): string[] {
  const words: Record<TrialRow['moves'][number], () => string> = {
    raised: () => `raised ${inDays(raisedDays ?? 0)}, on ${day(after.raisedAt)}`,
    cleared: () => `over ${end(after)} instead of ${end(before)}`,
    severity: () => `${courseIn(after)} instead of ${courseIn(before)}`,
    cause: () => `${after.cause ?? 'no cause'} instead of ${before.cause ?? 'no cause'}`,
    probability: () => `probability ${percent(after)} instead of ${percent(before)}`,
  };
  return moves.map((move) => words[move]());
}

/** How much sooner or later, in days to a tenth. */
export function inDays(days: number): string {
  const much = Math.round(Math.abs(days) * 10) / 10;
  if (much < 0.1) return 'within hours of it';
  return `${much} day${much === 1 ? '' : 's'} ${days < 0 ? 'earlier' : 'later'}`;
}

function day(instant: string): string {
  return instant.slice(0, 10);
}

function end({ clearedAt }: TrialSide): string {
  return clearedAt === null ? 'not at all' : `on ${day(clearedAt)}`;
}

function courseIn(side: TrialSide): string {
  return courseOf(side)
    .replaceAll(/T\S+?Z/g, '')
    .replaceAll(/(\d{4}-\d{2}-\d{2})/g, 'on $1')
    .replaceAll(', ', ', then ');
}

function percent({ probability }: TrialSide): string {
  return `${Math.round(probability * 100)} %`;
}
