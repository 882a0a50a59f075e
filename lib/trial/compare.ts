import type { Alert } from '../../shared/alerts.ts';
import { compareText } from '../../shared/compareText.ts';
import { courseOf } from './course.ts';

/** What became of an alert when the rules changed. */
export const CHANGES = ['same', 'moved', 'gone', 'new'] as const;
export type Change = (typeof CHANGES)[number];

/** What may differ between an alert before and the same alert after: when it was raised or cleared, or what it says. */
export const MOVES = ['raised', 'cleared', 'severity', 'cause', 'probability'] as const;
export type Move = (typeof MOVES)[number];

/** An alert by the rules as they are beside the one by the rules proposed; one side is null where there is none. */
export interface AlertPair {
  readonly kind: Alert['kind'];
  readonly change: Change;
  /** Empty but for `moved`. */
  readonly moves: readonly Move[];
  /** By how many days later it is raised, to a tenth; negative if earlier, null unless there are two. */
  readonly raisedDays: number | null;
  readonly before: Alert | null;
  readonly after: Alert | null;
}

const DAY_MS = 86_400_000;
/**
 * Alerts that do not overlap are taken for one if they begin no further apart: kinds are looked at daily, and what is
 * found sooner may be over before the later finding. A judgement, no source; how little hangs on it: decision 0019.
 */
const NEAR_MS = 7 * DAY_MS;
/** As in the contract, a probability that differs by less is not worth a word. */
const NOTEWORTHY = 0.05;

/**
 * Pairs a unit's alerts by two sets of rules: each alert of either side is in exactly one pair. Alerts of one kind are
 * paired that overlap or begin within a week, those that begin closest together first, so that swapping the sides
 * swaps the pairs and changes nothing else.
 *
 * @param before of one unit, no two of one kind raised at one instant
 * @param after likewise
 * @returns by the earlier of the two raisings, then by kind
 */
export function compareAlerts(before: readonly Alert[], after: readonly Alert[]): AlertPair[] {
  const beforeLeft = new Set(before.map(spanned));
  const afterLeft = new Set(after.map(spanned));
  const pairs: AlertPair[] = [];
  for (const { a, b } of candidates([...beforeLeft], [...afterLeft])) {
    if (!beforeLeft.has(a) || !afterLeft.has(b)) continue;
    beforeLeft.delete(a);
    afterLeft.delete(b);
    pairs.push(pairOf(a.alert, b.alert));
  }
  const alone = { moves: [], raisedDays: null };
  for (const { alert } of beforeLeft)
    pairs.push({ kind: alert.kind, change: 'gone', ...alone, before: alert, after: null });
  for (const { alert } of afterLeft)
    pairs.push({ kind: alert.kind, change: 'new', ...alone, before: null, after: alert });
  return pairs.sort(inTime);
}

/** An alert and when it lasted, in milliseconds; one that is open lasts for ever. */
interface Spanned {
  readonly alert: Alert;
  readonly from: number;
  readonly to: number;
}

function spanned(alert: Alert): Spanned {
  const to = alert.clearedAt === null ? Number.POSITIVE_INFINITY : Date.parse(alert.clearedAt);
  return { alert, from: Date.parse(alert.raisedAt), to };
}

/** All pairs that come into question, those that begin closest together first; of equals the earlier. */
function candidates(before: readonly Spanned[], after: readonly Spanned[]): { a: Spanned; b: Spanned }[] {
  return before
    .flatMap((a) => after.filter((b) => areAlike(a, b)).map((b) => ({ a, b })))
    .sort((p, q) => apart(p) - apart(q) || Math.min(p.a.from, p.b.from) - Math.min(q.a.from, q.b.from));
}

function areAlike(a: Spanned, b: Spanned): boolean {
  if (a.alert.kind !== b.alert.kind) return false;
  return (a.from <= b.to && b.from <= a.to) || Math.abs(a.from - b.from) <= NEAR_MS;
}

function apart({ a, b }: { a: Spanned; b: Spanned }): number {
  return Math.abs(a.from - b.from);
}

function pairOf(before: Alert, after: Alert): AlertPair {
  const differs: Record<Move, boolean> = {
    raised: before.raisedAt !== after.raisedAt,
    cleared: before.clearedAt !== after.clearedAt,
    severity: courseOf(before) !== courseOf(after),
    cause: before.cause !== after.cause,
    probability: Math.abs(before.probability - after.probability) >= NOTEWORTHY,
  };
  const moves = MOVES.filter((move) => differs[move]);
  return {
    kind: before.kind,
    change: moves.length === 0 ? 'same' : 'moved',
    moves,
    raisedDays: daysBetween(before.raisedAt, after.raisedAt),
    before,
    after,
  };
}

/** Days to a tenth; rounded alike in both directions. */
function daysBetween(from: string, to: string): number {
  const tenths = ((Date.parse(to) - Date.parse(from)) / DAY_MS) * 10;
  // Not -0, which is not what JSON gives back.
  return (Math.sign(tenths) * Math.round(Math.abs(tenths))) / 10 + 0;
}

function inTime(p: AlertPair, q: AlertPair): number {
  return (
    compareText(beginOf(p), beginOf(q)) || compareText(p.kind, q.kind) || compareText(p.change, q.change)
  );
}

function beginOf({ before, after }: AlertPair): string {
  const begins = [before, after].flatMap((alert) => (alert ? [alert.raisedAt] : []));
  return begins.sort()[0] ?? '';
}
