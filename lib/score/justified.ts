import type { Alert } from '../../shared/alerts.ts';
import { type LocalDate, parseLocalDate } from '../../shared/time/localDate.ts';
import type { Truth } from '../simulation/truth.ts';
import { CREEPING_DAYS } from './faultScores.ts';
import { saltRunsOut } from './saltAhead.ts';
import { byRaising, dayOf, type ScoredUnit } from './scoredUnit.ts';

/** So long after the end of what it tells of an alert may still be raised: the day is reported on the next. */
const GRACE_DAYS = 2;
/** What was done at the last regeneration is found out by the readings until the next. */
const SINCE_REGENERATION_DAYS = 14;
/** What is harmless and yet makes an alert true: a unit that was not heard was silent, a control that forgot is set wrong. */
const FOLLOWS: ReadonlyMap<unknown, readonly string[]> = new Map([
  ['outage', ['silent-unit']],
  ['record-gap', ['silent-unit']],
  ['settings-lost', ['clock-off', 'setting-mismatch']],
]);
/** Kinds that tell of what has happened and cannot be undone: what was true of it stays so. */
const HAS_HAPPENED: ReadonlySet<string> = new Set(['overrun', 'no-salt-draw', 'long-regeneration']);

/**
 * Whether an alert tells of something that was so: a fault of the unit, under its kind or one that follows from it; an
 * overrun, a regeneration without salt or a tank nearly empty by the truth. What counts is the day on which it was
 * raised: one that was for nothing, and is still open when a fault comes, was for nothing all the same.
 */
export function isJustified(scored: ScoredUnit, alert: Alert): boolean {
  return truthsBehind(scored, alert).length > 0 || isSaltLow(scored, alert, alert.raisedAt);
}

/** Salt runs out faster than the truth tells where a fault uses more of it than a sound unit does. */
function isSaltLow(scored: ScoredUnit, { kind }: Alert, instant: string): boolean {
  return kind === 'salt-low' && saltRunsOut(scored, instant);
}

/** What an alert may tell of, by the truth; what ends first comes first. */
function truthsBehind(scored: ScoredUnit, alert: Alert): Truth[] {
  const raised = dayOf(scored, alert.raisedAt);
  return scored.truth
    .filter((entry) => explains(scored, entry, alert, raised))
    .sort((a, b) => endOf(scored, a) - endOf(scored, b));
}

/** Whether what an alert said was so at one step of its history. */
export function isSoAt(scored: ScoredUnit, alert: Alert, instant: string): boolean {
  const day = dayOf(scored, instant);
  if (scored.truth.some((entry) => explains(scored, entry, alert, day))) return true;
  if (isSaltLow(scored, alert, instant)) return true;
  return HAS_HAPPENED.has(alert.kind) && isJustified(scored, alert);
}

/** What an alert became: the first to tell of something that was so, another of the same, or false. */
export type Verdict = 'match' | 'again' | 'false';

/**
 * Judges a unit's alerts in the order of raising. Each matches one thing that was so, and each thing is matched once by
 * alerts of a kind.
 */
export function verdictsOf(scored: ScoredUnit): { alert: Alert; verdict: Verdict }[] {
  const taken = new Map<string, Set<Truth>>();
  return [...scored.alerts].sort(byRaising).map((alert) => {
    const behind = truthsBehind(scored, alert);
    const ofKind = taken.get(alert.kind) ?? new Set();
    const free = behind.find((entry) => !ofKind.has(entry));
    if (free) taken.set(alert.kind, ofKind.add(free));
    if (free) return { alert, verdict: 'match' };
    if (behind.length > 0) return { alert, verdict: 'again' };
    return { alert, verdict: isSaltLow(scored, alert, alert.raisedAt) ? 'match' : 'false' };
  });
}

function explains(scored: ScoredUnit, entry: Truth, { kind }: Alert, day: LocalDate): boolean {
  const within = (grace: number) => day >= since(entry) && day <= endOf(scored, entry) + grace;
  switch (entry.what) {
    case 'fault':
      return kindsOf(entry).includes(kind) && within(GRACE_DAYS);
    case 'overrun':
      return kind === 'overrun' && within(SINCE_REGENERATION_DAYS);
    case 'regeneration-without-salt':
      return kind === 'no-salt-draw' && within(SINCE_REGENERATION_DAYS);
    case 'salt-low':
      return kind === 'salt-low' && within(GRACE_DAYS);
    case 'confounder':
      return FOLLOWS.get(entry.detail.confounder)?.includes(kind) === true && within(GRACE_DAYS);
    case 'absence':
      return false;
  }
}

function endOf(scored: ScoredUnit, { to }: Truth): LocalDate {
  return parseLocalDate(to ?? '') ?? scored.to;
}

function since({ from, detail }: Truth): LocalDate {
  const creeps = parseLocalDate(String(detail.dwindlingFrom));
  return creeps === undefined ? (parseLocalDate(from) ?? Infinity) : creeps - CREEPING_DAYS;
}

function kindsOf({ kind, detail }: Truth): string[] {
  const also = Array.isArray(detail.also) ? detail.also : [];
  return [
    ...(kind === null ? [] : [kind]),
    ...also.map((each: unknown) =>
      typeof each === 'object' && each !== null && 'kind' in each ? String(each.kind) : '',
    ),
  ];
}
