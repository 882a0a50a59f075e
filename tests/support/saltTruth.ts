import type { Received } from '../../lib/replay/received.ts';
import { settle } from '../../lib/replay/standing.ts';
import type { SaltAccount } from '../../lib/salt/account/saltAccount.ts';
import type { KnownMonths } from '../../lib/salt/knownMonths.ts';
import { Chance, STREAM } from '../../lib/simulation/chance.ts';
import type { UnitPlan } from '../../lib/simulation/plan.ts';
import { UnitLife } from '../../lib/simulation/unitLife.ts';
import { Untidiness } from '../../lib/simulation/untidiness.ts';
import { recordOf } from '../../lib/simulation/wire.ts';
import { accountsUntil } from '../../lib/unit/accountsUntil.ts';
import type { FoldRules } from '../../lib/unit/foldRules.ts';
import { inOrder, UnitHistory } from '../../lib/unit/history.ts';
import { admit } from '../../shared/admission.ts';
import { readRegistry } from '../../shared/registry.ts';
import type { Instant } from '../../shared/time/instant.ts';
import { monthOf } from '../../shared/time/month.ts';

/** A simulated unit: what the service knows of its months in the end, and the salt that it truly drew. */
export interface SaltUnit {
  readonly known: KnownMonths;
  /** By month, lb. */
  readonly trueLb: ReadonlyMap<string, number>;
}

/** As of when a fleet's accounts are made: all of its last day is over and has been reported, late events too. */
export function untilOf({ profile, start, days }: UnitPlan): Instant {
  return profile.zone.startOf(start + days);
}

/**
 * Lives through a unit and folds what arrives of it, as a replay does, without watching for alerts.
 *
 * @param untidy share of the events that arrive twice, late, corrected, not at all, or beside a line that is none
 */
export function livedSalt(plan: UnitPlan, rules: FoldRules, untidy: number): SaltUnit {
  const { units } = readRegistry(JSON.stringify([recordOf(plan.profile)]));
  const unit = units.get(plan.profile.unitId);
  if (!unit) throw new Error('the simulated unit has no record');
  const life = new UnitLife(plan);
  const untidiness = new Untidiness(untidy, new Chance(plan.seed[0], STREAM.untidiness, plan.seed[1]));
  const sent = Array.from({ length: plan.days }, () => life.nextDay()).flat();
  const received = sent
    .flatMap((each) => untidiness.lines(each))
    .flatMap(({ text }, index): Received[] => {
      const admission = admit(text, units);
      return admission.accepted ? [{ line: index + 1, raw: text, fact: admission.fact }] : [];
    });
  const history = new UnitHistory(unit, rules);
  const facts = settle(received).standing.map(({ fact }) => fact);
  for (const fact of facts.sort(inOrder)) history.learn(fact);
  const { state } = history;
  const months = [
    ...history.accounts.filter(({ from }) => from !== state.month.from),
    ...accountsUntil(unit, state, untilOf(plan)),
  ];
  const firstDate = facts.find(({ kind }) => kind === 'flow-day');
  return {
    known: { unit, months, firstDate: firstDate && 'date' in firstDate ? firstDate.date : undefined },
    trueLb: byMonth(plan, life.drawnLb),
  };
}

/** A region's month: the account, and what its units truly drew. */
export interface ComparedMonth {
  readonly account: SaltAccount;
  readonly trueLb: number;
}

/** Puts accounts beside the truth. A region's month without an account is a fault of the account and throws. */
export function compared(
  accounts: readonly SaltAccount[],
  units: readonly { region: string; trueLb: SaltUnit['trueLb'] }[],
): ComparedMonth[] {
  const truth = new Map<string, number>();
  for (const { region, trueLb } of units) {
    for (const [month, lb] of trueLb) {
      const key = `${region} ${month}`;
      truth.set(key, (truth.get(key) ?? 0) + lb);
    }
  }
  const byKey = new Map(accounts.map((account) => [`${account.region} ${account.month}`, account]));
  return [...truth].map(([key, trueLb]) => {
    const account = byKey.get(key);
    if (!account) throw new Error(`there is no account of ${key}`);
    return { account, trueLb };
  });
}

/** By how much an account is off, as a share of the truth. */
export function errorOf({ account, trueLb }: ComparedMonth): number {
  return (account.saltLb.value - trueLb) / trueLb;
}

/** Whether the interval holds the truth. */
export function isHeld({ account, trueLb }: ComparedMonth): boolean {
  return trueLb >= account.saltLb.low && trueLb <= account.saltLb.high;
}

function byMonth({ start }: UnitPlan, lbByDay: readonly number[]): Map<string, number> {
  const sums = new Map<string, number>();
  lbByDay.forEach((lb, day) => {
    const month = monthOf(start + day);
    sums.set(month, (sums.get(month) ?? 0) + lb);
  });
  return sums;
}
