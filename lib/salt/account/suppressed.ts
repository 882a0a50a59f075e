import { keysOf, recordOf } from '../../../shared/records.ts';
import type { Instant } from '../../../shared/time/instant.ts';
import { daysOf } from '../../../shared/time/month.ts';
import { WASTE_CAUSES } from '../waste.ts';
import type { FigureGroup } from './accountColumn.ts';
import type { Withheld, WithheldReason } from './accountsFile.ts';
import {
  type Contribution,
  type Contributions,
  NO_CONTRIBUTION,
  type Part,
  together,
} from './contributions.ts';
import type { EfficiencyCount, SaltAccount } from './saltAccount.ts';

/** An account, and who makes up its figures. */
export interface Disclosed {
  readonly account: SaltAccount;
  readonly contributions: Contributions;
}

/** A month is told so long after it is over: what is late has mostly come by then. Common practice, no source. */
const SETTLED_DAYS = 15;
/** One unit may make up to this share of a figure. Common practice of statistical offices, no source. */
const MOST_OF_ONE = 0.5;
/**
 * What the two largest leave must be at least this share of the largest, or the second could work out the first: the
 * p-percent rule (US OMB Statistical Policy Working Paper 22, from memory), with the 10 that offices are said to use.
 */
const LEAST_BESIDE_TWO = 0.1;

/** The drawn share is of the company as a whole, and judged so. */
type Told = Exclude<FigureGroup, 'key' | 'drawn-share'>;

interface GroupRule {
  /** What is withheld of this group is withheld of the other, too. */
  readonly within?: Told;
  /** The figures that must each be of enough units; one that is nothing tells of nobody. */
  readonly parts: readonly ((row: Disclosed) => Contribution)[];
}

/** Which figures decide of each group, those groups first that others are within. */
const GROUPS: Readonly<Record<Told, GroupRule>> = {
  all: { parts: [of('water'), of('salt')] },
  measured: { within: 'all', parts: [of('measuredSalt'), of('otherSalt')] },
  imputed: {
    within: 'measured',
    parts: [
      ...[of('meteredWater'), of('imputedWater'), of('inferredSalt'), of('imputedSalt')],
      ...[of('grains'), of('imputedGrains')],
    ],
  },
  'regeneration-water': { within: 'all', parts: [of('regenerationWater'), of('inferredRegenerationWater')] },
  delivered: { within: 'all', parts: [of('delivered')] },
  'hard-water': { within: 'all', parts: [of('hardWater')] },
  'as-set': { within: 'all', parts: counted(({ asSet }) => asSet) },
  'in-use': { within: 'all', parts: counted(({ inUse }) => inUse) },
  ...wastedGroups(),
};

/**
 * What of each account is not to be shared, so that nobody reads a household out of it, even who knows the company’s
 * totals of a month over all regions. Where too little would be withheld for that, the smallest of the other regions is
 * withheld, too (complementary suppression).
 *
 * It guards against no more than that: not against whoever compares two versions of a month between which one unit has
 * changed, nor against totals of one region over months, nor against who knows all other units of a region. A site with
 * several units counts as several.
 *
 * @param rows the accounts of one company
 * @param leastUnits fewer units are not told of
 */
export function withheldOf(rows: readonly Disclosed[], leastUnits: number): Withheld[] {
  const withheld = rows.map((): Partial<Record<FigureGroup, WithheldReason>> => ({}));
  const months = new Map<string, number[]>();
  rows.forEach(({ account }, index) => {
    if (isOpen(account)) set(withheld, index, 'all', 'month-open');
    else months.set(account.month, [...(months.get(account.month) ?? []), index]);
  });
  for (const indices of months.values()) {
    if (
      isOfFewSensors(
        indices.flatMap((index) => rows[index] ?? []),
        leastUnits,
      )
    ) {
      for (const index of indices) set(withheld, index, 'drawn-share', 'few-units');
    }
    for (const group of keysOf(GROUPS)) {
      for (const [index, reason] of withheldIn(group, indices, rows, { withheld, leastUnits })) {
        set(withheld, index, group, reason);
      }
    }
  }
  return withheld;
}

/**
 * Whether so few units have level sensors that what they measured could be worked out of the drawn share and its bounds,
 * since the rules' prior is known: fewer than twice as many as are told of. Without any there is nobody to tell of.
 */
function isOfFewSensors(rows: readonly Disclosed[], leastUnits: number): boolean {
  const measured = rows.reduce((sum, { account }) => sum + account.unitsMeasured, 0);
  return measured > 0 && measured < 2 * leastUnits;
}

/** Of a month’s rows, those of which the group is withheld for its own sake, or for another’s. */
function withheldIn(
  group: Told,
  indices: readonly number[],
  rows: readonly Disclosed[],
  { withheld, leastUnits }: { withheld: readonly Withheld[]; leastUnits: number },
): Map<number, WithheldReason> {
  const { within, parts } = GROUPS[group];
  const rowAt = (index: number) => rows[index] as Disclosed;
  const riskOf = (some: readonly number[]): WithheldReason | undefined => {
    const of = (part: (row: Disclosed) => Contribution) => together(some.map((index) => part(rowAt(index))));
    // Without anybody who reported there is nothing to tell.
    if (group === 'all' && of(REPORTING).units < leastUnits) return 'few-units';
    return parts.map((part) => risk(of(part), leastUnits)).find((reason) => reason !== undefined);
  };
  const reasons = new Map<number, WithheldReason>();
  const hidden: number[] = [];
  const told: number[] = [];
  for (const index of indices) {
    const above = within && withheld[index]?.[within];
    const reason = above ?? riskOf([index]);
    if (reason) reasons.set(index, reason);
    (reason ? hidden : told).push(index);
  }
  const sizeOf = (index: number) => parts[0]?.(rowAt(index)).total ?? 0;
  told.sort((a, b) => sizeOf(a) - sizeOf(b) || a - b);
  while (hidden.length > 0 && (hidden.length < 2 || riskOf(hidden))) {
    const next = told.shift();
    if (next === undefined) break;
    reasons.set(next, 'beside-another');
    hidden.push(next);
  }
  return reasons;
}

/** Why a figure is of too few; undefined if it is not, or nothing. */
function risk(
  { units, total, largest, second }: Contribution,
  leastUnits: number,
): WithheldReason | undefined {
  if (total === 0) return undefined;
  if (units < leastUnits) return 'few-units';
  const isOnes = largest > MOST_OF_ONE * total || total - largest - second < LEAST_BESIDE_TWO * largest;
  return isOnes ? 'one-unit' : undefined;
}

const REPORTING = of('reporting');

function of(part: Part): (row: Disclosed) => Contribution {
  return ({ contributions }) => contributions.get(part) ?? NO_CONTRIBUTION;
}

/** How many units meet a figure, and how many do not: each of the two may be a few. */
function counted(of: (account: SaltAccount) => EfficiencyCount): ((row: Disclosed) => Contribution)[] {
  return [
    ({ account }) => ones(of(account).nsf44),
    ({ account }) => ones(of(account).judged - of(account).nsf44),
    ({ account }) => ones(of(account).california2002),
    ({ account }) => ones(of(account).judged - of(account).california2002),
  ];
}

function ones(units: number): Contribution {
  const least = Math.min(1, units);
  return {
    units,
    movers: 0,
    total: units,
    largest: least,
    second: Math.min(1, units - least),
    largestOfMovers: 0,
  };
}

function wastedGroups(): Record<`wasted-${(typeof WASTE_CAUSES)[number]}`, GroupRule> {
  const groups = WASTE_CAUSES.map((cause) => `wasted-${cause}` as const);
  return recordOf(groups, (group) => ({ within: 'all', parts: [of(group)] }));
}

/** Whether a month is not over, or not for long enough, wherever its sites are. */
function isOpen({ month, asOf }: SaltAccount): boolean {
  return asOf < settledAt(month);
}

function settledAt(month: string): Instant {
  return (daysOf(month).until + SETTLED_DAYS) * 86_400_000;
}

function set(
  withheld: readonly Partial<Record<FigureGroup, WithheldReason>>[],
  index: number,
  group: FigureGroup,
  reason: WithheldReason,
) {
  const row = withheld[index];
  if (row) row[group] = reason;
}
