import { whole } from '../show/amounts.ts';
import { type Column, DataTable } from '../show/DataTable.tsx';
import { useLikings } from '../show/Likings.tsx';
import { plain } from '../show/words.ts';
import styles from './Deliveries.module.css';
import type { Deliveries, WeekSum } from './types.ts';
import { roundWords, units, weekWords } from './words.ts';

interface RoundsProps {
  readonly deliveries: Deliveries;
  readonly today: string;
}

interface Row {
  readonly key: string;
  readonly region: string;
  readonly round: string;
  readonly weeks: readonly WeekSum[];
}

/** Bags by round and week. */
export function Rounds({ deliveries: { weeks, rounds, total }, today }: RoundsProps) {
  const likings = useLikings();
  const shown = weeks.filter(({ week }) => week > 0 || (total[week]?.units ?? 0) > 0);
  const columns: Column<Row>[] = [
    {
      header: 'Round',
      cell: ({ region, round }) => (
        <>
          <bdi>{round}</bdi>
          {region !== '' && <span className={`soft small ${styles.under}`}>{region}</span>}
        </>
      ),
    },
    ...shown.map((week) => ({
      header: weekWords(week, likings, today),
      unit: 'bags',
      isNumber: true,
      cell: (row: Row) => {
        const sum = row.weeks[week.week];
        if (!sum) return '–';
        const { low, high } = sum.askedBags;
        if (sum.units === 0 && high === 0) return '–';
        return (
          <div>
            {whole(sum.bags, likings)}
            <span className={`soft small ${styles.under}`}>
              {sum.units > 0 && units(sum.units, likings)}
              {week.week > 0 && `${sum.units > 0 ? '; ' : ''}${whole(low, likings)}–${whole(high, likings)}`}
            </span>
          </div>
        );
      },
    })),
  ];
  return (
    <DataTable
      caption="Bags of the units that have their last safe day in a week, and between what numbers those asked for will lie with 80 %: units come earlier or later than they seem to now, and some have no date."
      columns={columns}
      rows={rounds.map(({ region, round, weeks: sums }) => ({
        key: `${region} ${round ?? ''}`,
        region: plain(region),
        round: roundWords(round),
        weeks: sums,
      }))}
      keyOf={({ key }) => key}
      total={rounds.length > 1 ? { key: 'all', region: '', round: 'All of these', weeks: total } : undefined}
      wideName="Bags by round and week"
    />
  );
}
