import type { Fact } from '../../shared/facts.ts';
import type { Unit } from '../../shared/registry.ts';
import type { Instant } from '../../shared/time/instant.ts';
import type { LocalDate } from '../../shared/time/localDate.ts';
import type { Received } from '../replay/received.ts';
import { settle } from '../replay/standing.ts';
import type { MonthAccount } from '../salt/monthAccount.ts';
import type { Rules } from '../watch/rules.ts';
import { type ActsSince, aboutAlert } from './alertActs.ts';
import { differenceOf } from './difference.ts';
import { byKnown, type Followed, follow, goesOnFrom, standsAfter } from './follow.ts';
import { type Head, newHead } from './head.ts';
import { alertIdOf } from './transitions.ts';

/** Which copies were folded is tried out up to so many ways: a copy of the same instant that says something else is rare. */
const MOST_CHOICES = 16;

/** What has been kept of a unit's past, and what to follow it by. */
export interface Past {
  readonly unit: Unit;
  readonly rules: Rules;
  /** Names a head by its content. */
  keyOf(head: Head): string;
  /** The stored lines of each of some event ids, as facts: every copy that was ever received. */
  copies(ids: readonly string[]): Promise<readonly (readonly Received[])[]>;
  /** The head that was put away under a key. */
  checkpoint(key: string): Promise<Head>;
}

/** All copies of one event id, and which of them stands. */
export interface Settled {
  readonly id: string;
  readonly standing: Fact;
  readonly copies: readonly Fact[];
  /** Copies that say something else. */
  readonly conflicts: readonly Received[];
}

/** What facts have made of a unit. */
export interface Absorbed extends Followed {
  /** Alerts that facts show never to have been. */
  readonly withdrawn: readonly string[];
  /** What is known anew of what people did about alerts. */
  readonly handled: readonly ActsSince[];
  /** First days of closed accounts that are none any more: there is nothing in them, or they begin on another day. */
  readonly lostMonths: readonly LocalDate[];
}

/** The accounts that are over, of those that facts fell into. */
export function closedMonths({ head, months }: Pick<Followed, 'head' | 'months'>): readonly MonthAccount[] {
  return months.filter(({ from }) => from !== head.state.month.from);
}

/** Settles the copies of an event id, of which there is at least one. */
export function settled(id: string, received: readonly Received[]): Settled {
  const { standing, conflicts } = settle(received);
  const [only] = standing;
  if (!only) throw new RangeError(`there is no copy of the event ${id}`);
  return { id, standing: only.fact, copies: received.map(({ fact }) => fact), conflicts };
}

/**
 * Takes in what is stored under some event ids. Goes on from the head where every fact is new and in order; else goes
 * back through the checkpoints, as far as the facts are late, and follows the unit on from there. What comes out is
 * what a replay of all facts gives. Undefined where nothing is new.
 *
 * @param noon a noon that has come at the unit's site: it is looked at, though no fact may have come
 */
export async function absorb(
  head: Head,
  touched: readonly Settled[],
  past: Past,
  noon?: Instant,
): Promise<Absorbed | undefined> {
  const news = touched.filter((each) => !isFolded(head, each));
  if (news.every((each) => each.copies.length === 1 && isUntouchedBy(head, each))) {
    return goOn(head, news, past, noon);
  }
  const gone = await goBack(head, news, past);
  if (!gone) return goOn(head, [], past, noon);
  const { base, before, now } = gone;
  const until = Math.max(head.knownUntil ?? 0, noon ?? 0);
  const followed = follow(past.unit, base, inOrderOf(now), { ...past, until });
  const then = asFolded(head, base, before, past);
  const touchedBefore = now.flatMap(({ copies }) => copies.flatMap(alertsNamedBy));
  return {
    ...followed,
    ...differenceOf(past.unit.unitId, then, followed),
    handled: handledIn(followed, base.knownUntil, touchedBefore),
    lostMonths: lostFrom(closedMonths(then), followed),
  };
}

/** Takes in facts that are new and in order, and noons; undefined where that changes nothing. */
function goOn(head: Head, news: readonly Settled[], past: Past, until: Instant | undefined) {
  const followed = follow(past.unit, head, inOrderOf(news), { ...past, until });
  const isChanged = news.length > 0 || followed.head.knownUntil !== head.knownUntil;
  if (!isChanged) return undefined;
  return { ...followed, withdrawn: [], handled: handledIn(followed, head.knownUntil, []), lostMonths: [] };
}

function lostFrom(closed: readonly Pick<MonthAccount, 'from'>[], followed: Followed): LocalDate[] {
  const kept = new Set(closedMonths(followed).map(({ from }) => from));
  return closed.map(({ from }) => from).filter((from) => !kept.has(from));
}

/**
 * The acts of a run by their alerts.
 *
 * @param since the run's beginning
 * @param others alerts of which acts may have been told that never were
 */
function handledIn({ acts }: Followed, since: Instant | null, others: readonly string[]): ActsSince[] {
  const alertIds = new Set([...others, ...acts.map(({ alertId }) => alertId)]);
  return [...alertIds].map((alertId) => ({
    alertId,
    since,
    acts: acts.filter((each) => each.alertId === alertId).map(({ done }) => done),
  }));
}

function alertsNamedBy(fact: Fact): string[] {
  const about = fact.kind === 'alert-act' ? aboutAlert(fact) : undefined;
  return about ? [about.alertId] : [];
}

/** Whether the copy that stands is among the facts that were folded since the last checkpoint. */
function isFolded({ journal }: Pick<Head, 'journal'>, { id, standing, copies }: Settled): boolean {
  if (!journal.some(([journaled, known]) => journaled === id && known === standing.known)) return false;
  return !isTied({ standing, copies });
}

/** Whether another copy became known with the one that stands: the journal cannot tell which of them it folded. */
function isTied({ standing, copies }: Pick<Settled, 'standing' | 'copies'>): boolean {
  return copies.filter(({ known }) => known === standing.known).length > 1;
}

/** Whether no copy of an id can be in a head, so that it can be followed on from there. */
function isUntouchedBy(head: Head, { standing, copies }: Settled): boolean {
  return goesOnFrom(head, standing) && copies.every((copy) => standsAfter(head.place, copy));
}

/**
 * The newest checkpoint that none of the facts touches, and what has been and is now to be folded after it. Undefined
 * where they turn out to have been folded: they came again.
 */
async function goBack(
  head: Head,
  news: readonly Settled[],
  past: Past,
): Promise<{ base: Head; before: Fact[][]; now: Settled[] } | undefined> {
  let base = head;
  let unseen = news;
  const journal = new Map<string, Instant>();
  const pool = new Map(news.map((each) => [each.id, each]));
  while (![...pool.values()].every((each) => isUntouchedBy(base, each))) {
    const undone = base.journal;
    unseen = unseen.filter((each) => !isFolded(base, each));
    if (unseen.length === 0) return undefined;
    for (const [id, known] of undone) journal.set(id, known);
    const missing = undone.map(([id]) => id).filter((id) => !pool.has(id));
    const copies = await past.copies(missing);
    missing.forEach((id, index) => {
      pool.set(id, settled(id, copies[index] ?? []));
    });
    base =
      base.previous === null ? newHead(past.unit, past.rules.fold) : await past.checkpoint(base.previous);
  }
  const before = [...journal].map(([id, known]) => foldedCopies(pool.get(id), known));
  return { base, before, now: [...pool.values()] };
}

/** The copies of an id of which one was folded: several only where they became known together. */
function foldedCopies(settled: Settled | undefined, known: Instant): Fact[] {
  return settled?.copies.filter((copy) => copy.known === known) ?? [];
}

/**
 * What was made of the facts that were folded, each of them one of some copies. The journal does not tell which, so the
 * head does: the choice is right with which it comes out as it is. Where none is found, it is as if nothing had been
 * told, and all since then is told again under the keys that it had.
 */
function asFolded(head: Head, base: Head, before: readonly Fact[][], past: Past): Followed {
  const made = (facts: Fact[]) =>
    follow(past.unit, base, facts.sort(byKnown), { rules: past.rules, until: head.knownUntil ?? undefined });
  const choices = choicesOf(before);
  if (choices.length === 1) return made(choices[0] ?? []);
  const folded = madeIn(head);
  for (const facts of choices) {
    const then = made(facts);
    if (madeIn(then.head) === folded) return then;
  }
  return { ...made(choices[0] ?? []), transitions: [] };
}

function madeIn({ state, open, recent, outOfService }: Head): string {
  return JSON.stringify([state, open, recent, outOfService]);
}

/** Every way to take one fact of each group; those of the first few groups that leave a choice, so that they stay few. */
function choicesOf(groups: readonly Fact[][]): Fact[][] {
  let choices: Fact[][] = [[]];
  for (const group of groups) {
    const few = choices.length * group.length > MOST_CHOICES ? group.slice(0, 1) : group;
    choices = choices.flatMap((facts) => few.map((fact) => [...facts, fact]));
  }
  return choices;
}

function inOrderOf(settled: readonly Settled[]): Fact[] {
  return settled.map(({ standing }) => standing).sort(byKnown);
}

/**
 * Follows a unit anew from nothing, because its record or the rules have changed. People are told of what is open now
 * and was not, and the other way round; not of the past again.
 *
 * @param told the head by which people were told of alerts
 * @param listed what is kept of the unit: the alerts that are listed, and the accounts of closed months
 */
export function refold(
  told: Head,
  listed: { readonly alerts: readonly string[]; readonly months: readonly Pick<MonthAccount, 'from'>[] },
  all: readonly Settled[],
  past: Past,
  noon?: Instant,
): Absorbed {
  const until = Math.max(told.knownUntil ?? 0, noon ?? 0);
  const followed = follow(past.unit, newHead(past.unit, past.rules.fold), inOrderOf(all), { ...past, until });
  const { withdrawn, transitions } = differenceOf(past.unit.unitId, toldBy(told), followed);
  const wasOpen = new Set(told.open.map(alertIdOf));
  const isOpen = new Set(followed.head.open.map(alertIdOf));
  const real = new Set([...followed.ended, ...followed.head.open].map(alertIdOf));
  return {
    ...followed,
    withdrawn: [...new Set([...withdrawn, ...listed.alerts.filter((alertId) => !real.has(alertId))])],
    transitions: transitions.filter(({ change, alertId }) => {
      if (change === 'withdrawn') return true;
      return change === 'cleared'
        ? wasOpen.has(alertId) && !isOpen.has(alertId)
        : change === 'raised' && isOpen.has(alertId) && !wasOpen.has(alertId);
    }),
    handled: handledIn(followed, null, []),
    lostMonths: lostFrom(listed.months, followed),
  };
}

function toldBy(head: Head): Followed {
  return { head, checkpoints: [], ended: [], transitions: [], acts: [], months: [] };
}
