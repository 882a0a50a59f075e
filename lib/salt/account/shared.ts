import type { AccountColumn } from './accountColumn.ts';
import type { AccountCells, AccountsFile, Withheld } from './accountsFile.ts';
import { SALT_ACCOUNT_COLUMNS } from './columns.ts';

/** The column that shared accounts have beside the others. */
export const SUPPRESSED_COLUMN: Omit<AccountColumn, 'member' | 'of'> = {
  ...{ name: 'suppressed', type: 'text', unit: 'words', group: 'key' },
  about: 'which figures are withheld and why; empty where all are told',
  how: 'only where accounts are shared. "all" is the whole row; else the group of the columns, as the dictionary has it, with its reason: month-open, few-units, one-unit, beside-another; several are parted by "; "',
};

/** The accounts as they may be shared: what is withheld is null, and never 0. */
export function sharedCells({ items, withheld }: Pick<AccountsFile, 'items' | 'withheld'>): AccountCells[] {
  return items.map((cells, index) => sharedRow(cells, withheld[index]));
}

/** A row without a word on what of it may be told is not told at all. */
function sharedRow(cells: AccountCells, withheld: Withheld = { all: 'few-units' }): AccountCells {
  const told = SALT_ACCOUNT_COLUMNS.map(({ name, group }): [string, AccountCells[string]] => [
    name,
    group === 'key' || (withheld.all === undefined && withheld[group] === undefined)
      ? (cells[name] ?? null)
      : null,
  ]);
  return { ...Object.fromEntries(told), [SUPPRESSED_COLUMN.name]: wordsOf(withheld) };
}

function wordsOf(withheld: Withheld): string | null {
  if (withheld.all !== undefined) return `all ${withheld.all}`;
  const groups = Object.entries(withheld).map(([group, reason]) => `${group} ${reason}`);
  return groups.length > 0 ? groups.join('; ') : null;
}
