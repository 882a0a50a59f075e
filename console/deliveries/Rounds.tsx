import { whole } from '../show/amounts.ts';
import { type Column, DataTable } from '../show/DataTable.tsx';
import { type Likings, useLikings } from '../show/Likings.tsx';
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

/** Bags that will be asked for, by round and week. */
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
        const { value, low, high } = sum.askedBags;
        if (sum.units === 0 && value === 0) return '–';
        return (
          <div>
            {value > 0 && value < 0.5 ? '<1' : whole(value, likings)}
            <span className={`soft small ${styles.under}`}>
              {low < high && `${whole(low, likings)}–${whole(high, likings)}`}
              {sum.units > 0 && `${low < high ? '; ' : ''}${datedWords(sum, likings)}`}
            </span>
          </div>
        );
      },
    })),
  ];
  return (
    <DataTable
      caption="Bags that will be asked for, by houses with a date and without; beneath, between what numbers they will lie with 80 %, and what houses with their last safe day in that week take. –: no house will ask, as far as is known. <1: one may, but hardly does. Rounded numbers need not add up."
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

function datedWords({ bags: dated, units: count }: WeekSum, likings: Likings): string {
  return `${whole(dated, likings)} for ${units(count, likings)} with a date`;
}
