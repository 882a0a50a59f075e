import { recordOf } from '../../../shared/records.ts';
import type { Estimate } from '../../estimate/estimate.ts';
import { estimateOf } from '../../estimate/interval.ts';
import { type DrawnShare, drawnShareOf } from '../../salt/account/drawnShare.ts';
import type { SaltRules } from '../../salt/account/saltRules.ts';
import { DAYS_A_YEAR } from '../settings/pastUse.ts';
import { REFUSALS, type Refusal } from '../settings/refusal.ts';
import {
  type Answered,
  drawnOf,
  type Group,
  together as groupsTogether,
  groupTotal,
  varied,
} from './groupTotal.ts';
import type { LastYear } from './lastYear.ts';
import { type ReplayedOf, replayedOf } from './replayedDays.ts';
import type { Side, UnitWhatIf } from './unitWhatIf.ts';
import { GOES_WITH_SALT, MEASURES, type Measure, together, type Year } from './year.ts';

/** What is known of one unit of a region. */
export interface AskedUnit {
  readonly region: string;
  /** What its accounts tell of its last year; undefined where they tell nothing. */
  readonly lastYear: LastYear | undefined;
  /** Its year, or why its past does not tell. */
  readonly answer: UnitWhatIf | Refusal;
}

/** A year to come under two settings, of the units of one region or of many. */
export interface RegionsWhatIf {
  /** Units whose own past tells; and those that are taken to be like them, since theirs does not. */
  readonly units: number;
  readonly extrapolated: number;
  /** By reason, those whose past does not tell. */
  readonly leftOut: Readonly<Partial<Record<Refusal, number>>>;
  /** The days that were replayed; null where no unit's past tells. */
  readonly replayed: ReplayedOf | null;
  /** Units of those whose past tells that are imagined at less salt a regeneration than today, and at more. */
  readonly doses: { readonly lower: number; readonly higher: number };
  /** Of those whose past tells, as it has it. */
  readonly past: { readonly today: Year; readonly imagined: Year };
  /** Of all units, with 80 % intervals; null where no unit's past tells. */
  readonly estimates: Readonly<Record<Measure, Readonly<Record<Side, Estimate>>>> | null;
}

/** Doses that differ by less are the same: conversion from metric units leaves crumbs, lb. */
const CRUMB_LB = 0.05;
/** Of fewer days an account says little about a year; as settings are advised from no less. A guess, no source. */
const LEAST_DAYS = 60;
/** A unit is taken for no smaller than so much of the mean. A guess, no source. */
const LEAST_SIZE = 0.1;
/** Accounts do not tell how large such a unit is: what its meter did not count, its control did not regenerate for. */
const UNSIZED: ReadonlySet<Refusal> = new Set(['meter-in-doubt', 'no-use']);

/**
 * The year to come of regions. Units whose past does not tell are not dropped from it: by the salt of their accounts
 * they are taken to be like the others of their region, or of all regions where it has no others.
 *
 * @param elsewhere what accounts tell of the company's other units: what is drawn of a dose is asked of them too, so
 * that regions add up to the company
 */
export function regionsWhatIf(
  units: readonly AskedUnit[],
  rules: SaltRules,
  elsewhere: readonly LastYear[] = [],
): RegionsWhatIf {
  const refused = units.flatMap(({ answer }) => (typeof answer === 'string' ? [answer] : []));
  const told = units.flatMap(({ answer }) => (typeof answer === 'string' ? [] : [answer]));
  const counts = REFUSALS.map(
    (reason) => [reason, refused.filter((each) => each === reason).length] as const,
  );
  const share = drawnShareOf(
    [...units.flatMap(({ lastYear }) => lastYear ?? []), ...elsewhere],
    rules.drawnShare,
  );
  return {
    units: told.length,
    extrapolated: told.length > 0 ? refused.length : 0,
    leftOut: Object.fromEntries(counts.filter(([, count]) => count > 0)),
    replayed: replayedOf(told.map(({ replayed }) => replayed)),
    doses: {
      lower: told.filter(({ doseChangeLb }) => doseChangeLb < -CRUMB_LB).length,
      higher: told.filter(({ doseChangeLb }) => doseChangeLb > CRUMB_LB).length,
    },
    past: {
      today: together(told.map(({ past }) => past.today)),
      imagined: together(told.map(({ past }) => past.imagined)),
    },
    estimates: told.length > 0 ? estimatesOf(groupsOf(units), share) : null,
  };
}

function estimatesOf(groups: readonly Group[], share: DrawnShare): NonNullable<RegionsWhatIf['estimates']> {
  return recordOf(MEASURES, (measure) => {
    const of = (side: Side) => {
      const total = groupsTogether(groups.map((group) => groupTotal(group, measure, side)));
      return toldOf(GOES_WITH_SALT[measure] ? drawnOf(total, share) : varied(total), side);
    };
    return { today: of('today'), imagined: of('imagined'), difference: of('difference') };
  });
}

/** The units of each region. */
function groupsOf(units: readonly AskedUnit[]): Group[] {
  const regions = new Map<string, AskedUnit[]>();
  for (const unit of units) {
    const others = regions.get(unit.region);
    if (others) others.push(unit);
    else regions.set(unit.region, [unit]);
  }
  return [...regions.values()].map((own) => {
    const isAlone = own.every(({ answer }) => typeof answer === 'string');
    const sizeOf = sizesOf(isAlone ? units : own);
    const answeredOf = (some: readonly AskedUnit[]): Answered[] =>
      some.flatMap((unit) =>
        typeof unit.answer === 'string' ? [] : [{ size: sizeOf(unit), answer: unit.answer }],
      );
    return {
      told: answeredOf(own),
      like: answeredOf(isAlone ? units : own),
      others: own.filter(({ answer }) => typeof answer === 'string').map(sizeOf),
    };
  });
}

/** How large units are, by the salt of their accounts over the mean of those known; 1 where they do not tell. */
function sizesOf(units: readonly AskedUnit[]): (unit: AskedUnit) => number {
  const known = units.flatMap((unit) => saltOf(unit) ?? []);
  const mean = known.reduce((sum, lb) => sum + lb, 0) / known.length;
  return (unit) => {
    const lb = saltOf(unit);
    return lb === undefined || !(mean > 0) ? 1 : Math.max(LEAST_SIZE, lb / mean);
  };
}

/** Salt of a year by a unit's accounts, without what a leak wasted; undefined where they do not tell. */
function saltOf({ answer, lastYear }: AskedUnit): number | undefined {
  if (!lastYear || lastYear.days < LEAST_DAYS) return undefined;
  if (typeof answer === 'string' && UNSIZED.has(answer)) return undefined;
  return Math.max(0, lastYear.saltLbAYear - ((lastYear.wasted.leak ?? 0) * DAYS_A_YEAR) / lastYear.days);
}

/** An amount is not below 0; what lies between two may be. */
function toldOf(total: { value: number; variance: number }, side: Side): Estimate {
  return side === 'difference' ? estimateOf(total) : estimateOf(total, 0);
}
