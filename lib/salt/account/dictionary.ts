import { stringify } from 'csv-stringify/sync';
import type { AccountColumn } from './accountColumn.ts';
import { SALT_ACCOUNT_COLUMNS } from './columns.ts';
import { SUPPRESSED_COLUMN } from './shared.ts';

/** What the dictionary says of a column. */
const ENTRIES = {
  column: ({ name }) => name,
  type: ({ type }) => TYPE_WORDS[type],
  unit: ({ unit }) => unit,
  decimals_in_csv: ({ decimals }) => decimals?.toString() ?? '',
  may_be_empty: ({ always }) => (always ? 'no' : 'yes'),
  group: ({ group }) => group,
  meaning: ({ about }) => about,
  how: ({ how }) => how,
} as const satisfies Record<string, (column: Described) => string>;

type Described = Omit<AccountColumn, 'member' | 'of'>;

const TYPE_WORDS = {
  text: 'text',
  integer: 'whole number',
  double: 'number',
  timestamp: 'instant, RFC 3339',
} as const;

const DESCRIBED: readonly Described[] = [...SALT_ACCOUNT_COLUMNS, SUPPRESSED_COLUMN];

/** The data dictionary of the accounts as RFC 4180 CSV, in UTF-8: a row a column. */
export function dictionaryCsv(): string {
  const rows = DESCRIBED.map((column) => Object.values(ENTRIES).map((entry) => entry(column)));
  return stringify([Object.keys(ENTRIES), ...rows], { record_delimiter: 'windows' });
}

/** The same as Markdown. */
export function dictionaryMarkdown(): string {
  const rows = DESCRIBED.map(
    (column) =>
      `| \`${column.name}\` | ${TYPE_WORDS[column.type]}${column.always ? '' : ', may be empty'} | ${column.unit} | ${column.group} | ${cell(column.about)} | ${cell(column.how)} |`,
  );
  return `# Data dictionary of the salt accounts

Made of \`lib/salt/account/columns.ts\`; \`npx vitest run tests/docs/dictionary.test.ts --update\` writes it anew. The columns are those of
\`GET /v1/accounts\`, \`/v1/accounts.csv\`, \`/v1/accounts.parquet\` and, all but \`suppressed\`, of the view \`region_accounts\`. A row is a region
and a month. Numbers are rounded in CSV alone. \`salt.csv\` and \`salt.parquet\` are other files, with nothing imputed
(estimated for days without a report): see the contract.

**Group**: figures that are told or withheld together where accounts are shared. A row of which \`all\` is withheld has nothing but its key;
without \`measured\` there is no \`imputed\`.

| column | type | unit | group | what it means | how it is worked out |
| --- | --- | --- | --- | --- | --- |
${rows.join('\n')}
`;
}

function cell(text: string): string {
  return text.replaceAll('|', '\\|');
}
