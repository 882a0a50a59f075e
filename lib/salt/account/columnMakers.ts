import { keysOf } from '../../../shared/records.ts';
import type { Estimate } from '../../estimate/estimate.ts';
import type { AccountColumn, FigureGroup } from './accountColumn.ts';
import type { EfficiencyCount, SaltAccount } from './saltAccount.ts';

/** The members of an account that are of a type. */
type MembersOf<Type> = {
  [Member in keyof SaltAccount]: SaltAccount[Member] extends Type ? Member : never;
}[keyof SaltAccount];

/** A column of a whole number. */
export function count(
  name: string,
  member: MembersOf<number>,
  about: string,
  given: { how: string; sql: string; unit?: string; group?: FigureGroup },
): AccountColumn {
  const { how, sql, unit = 'units', group = 'all' } = given;
  return {
    ...{ name, member, type: 'integer', unit, decimals: 0, group, always: true, about, how },
    sql: `cast(${sql} as integer)`,
    of: (account) => account[member],
  };
}

/** A column of an amount, told with the others of its unit unless it says otherwise. */
export function amount(
  name: string,
  member: keyof SaltAccount,
  unit: string,
  decimals: number,
): Omit<AccountColumn, 'about' | 'how'> {
  const of = (account: SaltAccount) => {
    const value = account[member];
    return typeof value === 'number' ? value : null;
  };
  return { name, member, type: 'double', unit, decimals, group: 'all', always: true, of };
}

/** The share that a part of the salt has; null without salt. */
export function share(
  name: string,
  member: MembersOf<number>,
  group: FigureGroup,
  { part, whole }: { part: string; whole: string },
): AccountColumn {
  return {
    ...{ name, member, type: 'double', unit: 'share of 1', decimals: 4, group },
    about: `share of the salt used that ${name.replace('_share', '_lb')} is, 0 to 1`,
    how: 'over salt_used_lb; empty without salt',
    sql: `case when ${whole} > 0 then ${part} / ${whole} end`,
    of: (account) => (account.saltLb.value > 0 ? account[member] / account.saltLb.value : null),
  };
}

/** The three columns of an estimate: its value, and the bounds that it lies between with 80 %. */
export function estimate(
  member: MembersOf<Estimate | null>,
  [name, suffix]: readonly [name: string, suffix: string],
  given: Pick<AccountColumn, 'unit' | 'decimals' | 'about' | 'how' | 'sql'> & {
    /** What makes it uncertain. */
    unsure: string;
    isNullable?: boolean;
    /** What is told or withheld with its value, and with its bounds. */
    groups?: { value: FigureGroup; bounds: FigureGroup };
  },
): AccountColumn[] {
  const { sql, unsure, isNullable = false, groups = SALT_GROUPS, ...rest } = given;
  const nameOf = (...parts: readonly string[]) =>
    [name, ...parts, suffix].filter((part) => part !== '').join('_');
  return keysOf(BOUNDS).map((bound) => ({
    ...rest,
    ...{ member, type: 'double', ...(!isNullable && { always: true }) },
    group: bound === 'value' ? groups.value : groups.bounds,
    name: nameOf(...BOUNDS[bound].parts),
    about: `${BOUNDS[bound].before}${rest.about}`,
    how: bound === 'value' ? rest.how : `bound of the interval of 80 % around ${nameOf()}: ${unsure}`,
    ...(bound === 'value' && sql !== undefined && { sql }),
    of: (account) => account[member]?.[bound] ?? null,
  }));
}

/** Bounds of salt, and of what goes with it, tell how sure the drawn share is. */
const SALT_GROUPS = { value: 'all', bounds: 'drawn-share' } as const;

const BOUNDS = {
  value: { parts: [], before: '' },
  low: { parts: ['low'], before: 'least, with 80 %: ' },
  high: { parts: ['high'], before: 'most, with 80 %: ' },
} as const;

/** How many units meet the published figures, of those that could be judged. */
export function efficiency(
  member: MembersOf<EfficiencyCount>,
  suffix: string,
  group: FigureGroup,
  how: string,
): AccountColumn[] {
  return keysOf(FIGURES).map((figure) => ({
    ...{ member, type: 'integer', unit: 'units', decimals: 0, group, always: true, how },
    name: `${FIGURES[figure].name}_${suffix}`,
    about: FIGURES[figure].about,
    of: (account) => account[member][figure],
  }));
}

const FIGURES = {
  judged: { name: 'units_judged', about: 'units whose efficiency could be judged' },
  nsf44: {
    name: 'units_rated',
    about:
      'of the units judged, those that meet 3,350 grains per lb and 5 gallons per 1,000 grains (NSF/ANSI 44)',
  },
  california2002: {
    name: 'units_california',
    about: 'of the units judged, those that meet 4,000 grains per lb (California, installed since 2002)',
  },
} as const satisfies Record<keyof EfficiencyCount, { name: string; about: string }>;

/** A number in SQL: with an exponent, or it were a decimal. */
export function factor(value: number): string {
  return value.toExponential();
}
