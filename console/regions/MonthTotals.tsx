import { shareTold } from '../../lib/salt/rounding.ts';
import { count, unitOf, whole } from '../show/amounts.ts';
import { type Column, DataTable } from '../show/DataTable.tsx';
import { type Likings, useLikings } from '../show/Likings.tsx';
import { plain } from '../show/words.ts';
import { CHANCE_WORDS, estimateWords, shownEstimate } from './intervals.ts';
import { MEASURES, type MeasureName } from './measures.ts';
import { type Accounts, yearBefore } from './months.ts';
import { monthWords } from './monthWords.ts';
import styles from './RegionsPage.module.css';
import { ShareBar } from './ShareBar.tsx';
import { dayParts, saltParts } from './shares.ts';
import { DAY_WORDS } from './shareWords.ts';
import type { RegionMonth } from './toldMonths.ts';

interface MonthTotalsProps {
  readonly accounts: Accounts;
  readonly month: string;
  /** What is said where the month is not whole. */
  readonly note: string | undefined;
}

interface Row {
  readonly region: string;
  readonly account: RegionMonth;
  /** The same month of the year before. */
  readonly before: RegionMonth | undefined;
}

/** Sums of a month, a row a region, and of all of them together. */
export function MonthTotals({ accounts: { regions, all }, month, note }: MonthTotalsProps) {
  const likings = useLikings();
  const rows = regions.flatMap((each) => rowOf(plain(each.region), each.months, month));
  const [total] = rowOf('All regions', all, month);
  return (
    <DataTable
      caption={
        <>
          {monthWords(month, likings.locale)}, by region{note && `: ${note}`}. Beneath an amount: its{' '}
          {CHANCE_WORDS} interval, and no figure has more digits than its interval supports. That of all
          regions is worked out for itself; the intervals of regions do not add up.
        </>
      }
      columns={columnsOf(likings)}
      rows={rows}
      keyOf={({ region }) => region}
      total={rows.length > 1 ? total : undefined}
      wideName={`${monthWords(month, likings.locale)} by region`}
    />
  );
}

function columnsOf(likings: Likings): readonly Column<Row>[] {
  const measured = (name: MeasureName): Column<Row> => ({
    header: MEASURES[name].label,
    unit: unitOf(MEASURES[name].quantity, likings),
    isNumber: true,
    cell: ({ account }) => <Amount account={account} name={name} likings={likings} />,
  });
  const salt = measured('salt');
  return [
    { header: 'Region', cell: ({ region }) => <bdi>{region}</bdi> },
    {
      header: 'Units',
      unit: 'reporting',
      isNumber: true,
      cell: ({ account: { units, unitsReporting } }) => (
        <div>
          {whole(unitsReporting, likings)}
          {unitsReporting < units && <Small>of {whole(units, likings)}</Small>}
        </div>
      ),
    },
    {
      ...salt,
      cell: (row) => (
        <div>
          {salt.cell(row)}
          <SaltBefore row={row} />
        </div>
      ),
    },
    {
      header: 'How it is known',
      cell: ({ account }) => (
        <div className={styles.known}>
          <ShareBar
            of="Salt"
            parts={saltParts(account)}
            words={MEASURES.salt.known.short}
            nothing="none used"
          />
          <ShareBar of="Days" parts={dayParts(account)} words={DAY_WORDS} nothing="none owed" />
        </div>
      ),
    },
    measured('chloride'),
    measured('efficiency'),
    measured('regeneration-water'),
    measured('water'),
    {
      header: 'Regenerations',
      isNumber: true,
      cell: ({ account: { regenerations, regenerationsImputed } }) => (
        <div>
          {whole(regenerations, likings)}
          {regenerationsImputed > 0 && <Small>and {count(regenerationsImputed, likings)} estimated</Small>}
        </div>
      ),
    },
  ];
}

/** A value with its bounds beneath it. */
function Amount({ account, name, likings }: { account: RegionMonth; name: MeasureName; likings: Likings }) {
  const { estimate, quantity } = MEASURES[name];
  const told = estimate(account);
  if (!told) return '–';
  const { value, bounds } = estimateWords(shownEstimate(told, quantity, likings), likings);
  return (
    <div>
      {value}
      {bounds && <Small>{bounds}</Small>}
    </div>
  );
}

/** How the salt compares with that of the same month a year before, where that was watched. */
function SaltBefore({ row: { account, before } }: { row: Row }) {
  if (!before || before.saltLb.value <= 0) return null;
  const change = account.saltLb.value / before.saltLb.value - 1;
  return (
    <Small>
      {change < 0 ? '−' : '+'}
      {shareTold(Math.abs(change))} in a year
    </Small>
  );
}

function Small({ children }: { children: React.ReactNode }) {
  return <div className={`soft small ${styles.beneath}`}>{children}</div>;
}

function rowOf(region: string, months: readonly RegionMonth[], month: string): Row[] {
  const account = months.find((each) => each.month === month);
  const before = months.find((each) => each.month === yearBefore(month));
  return account ? [{ region, account, before }] : [];
}
