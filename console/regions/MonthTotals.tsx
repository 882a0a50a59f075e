import { count, percent, unitOf, whole } from '../show/amounts.ts';
import { type Column, DataTable } from '../show/DataTable.tsx';
import { type Likings, useLikings } from '../show/Likings.tsx';
import { plain } from '../show/words.ts';
import { MEASURES, type MeasureName, shownValue } from './measures.ts';
import { type MonthSum, type RegionSums, together, yearBefore } from './months.ts';
import { monthWords } from './monthWords.ts';
import styles from './RegionsPage.module.css';
import { ShareBar } from './ShareBar.tsx';

interface MonthTotalsProps {
  readonly regions: readonly RegionSums[];
  readonly month: string;
  /** What is said where the month is not whole. */
  readonly note: string | undefined;
}

interface Row {
  readonly region: string;
  readonly sum: MonthSum;
  /** The same month of the year before. */
  readonly before: MonthSum | undefined;
}

/** Sums of a month, a row a region, and of all of them together. */
export function MonthTotals({ regions, month, note }: MonthTotalsProps) {
  const likings = useLikings();
  const rows = regions.flatMap((each) => rowOf(plain(each.region), each.months, month));
  const [total] = rowOf('All regions', together(regions), month);
  return (
    <DataTable
      caption={
        <>
          {monthWords(month, likings.locale)}, by region{note && `: ${note}`}. How it is known is of the salt,
          and so of chloride and efficiency.
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
    cell: ({ sum }) => {
      const value = shownValue(sum, MEASURES[name], 'all', likings);
      return value === null ? '–' : count(value, likings);
    },
  });
  return [
    { header: 'Region', cell: ({ region }) => <bdi>{region}</bdi> },
    { header: 'Units', unit: 'reporting', isNumber: true, cell: ({ sum }) => whole(sum.units, likings) },
    {
      header: 'Regenerations',
      isNumber: true,
      cell: ({ sum }) => whole(sum.regenerations, likings),
    },
    {
      ...measured('salt'),
      cell: (row) => (
        <div>
          {measured('salt').cell(row)}
          <SaltBefore row={row} likings={likings} />
        </div>
      ),
    },
    measured('chloride'),
    measured('efficiency'),
    measured('regeneration-water'),
    measured('water'),
    { header: 'How it is known', cell: ({ sum }) => <ShareBar shares={MEASURES.salt.shares(sum)} /> },
  ];
}

/** How the salt compares with that of the same month a year before, where that was watched. */
function SaltBefore({ row: { sum, before }, likings }: { row: Row; likings: Likings }) {
  const then = before && MEASURES.salt.value(before);
  if (!then) return null;
  const change = MEASURES.salt.value(sum) / then - 1;
  return (
    <div className={`soft small ${styles.change}`}>
      {change < 0 ? '−' : '+'}
      {percent(Math.abs(change), likings)} in a year
    </div>
  );
}

function rowOf(region: string, months: readonly MonthSum[], month: string): Row[] {
  const sum = months.find((each) => each.month === month);
  const before = months.find((each) => each.month === yearBefore(month));
  return sum ? [{ region, sum, before }] : [];
}
