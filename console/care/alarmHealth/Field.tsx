import { percent, whole } from '../../show/amounts.ts';
import { DataTable } from '../../show/DataTable.tsx';
import { type Likings, useLikings } from '../../show/Likings.tsx';
import { KIND_WORDS } from '../../show/words.ts';
import { IntervalMark } from './IntervalMark.tsx';
import type { Health } from './query.ts';

type Kind = Health['field'][number];
type Rate = Kind['confirmed'];

/** What technicians found at the units, by kind of alert. */
export function Field({ field }: Pick<Health, 'field'>) {
  const likings = useLikings();
  const number = (of: (kind: Kind) => number) => (kind: Kind) => whole(of(kind), likings);
  return (
    <DataTable
      caption="Alerts of the window, and the share of visits that found it so; in brackets its two-sided 90 % interval. A visit that says nothing counts neither way."
      columns={[
        { header: 'Kind of alert', cell: ({ kind }) => KIND_WORDS[kind] },
        { header: 'Visited', unit: 'finding told', isNumber: true, cell: number(({ visited }) => visited) },
        {
          header: 'Visited, silent',
          unit: 'no finding told',
          isNumber: true,
          cell: number(({ visitedWithoutWord }) => visitedWithoutWord),
        },
        { header: 'Not visited', isNumber: true, cell: number(({ notVisited }) => notVisited) },
        {
          header: 'Found what the alert named',
          cell: ({ confirmed }) => <RateCell rate={confirmed} likings={likings} />,
        },
        {
          header: 'Found that or another cause',
          cell: ({ somethingFound }) => <RateCell rate={somethingFound} likings={likings} />,
        },
      ]}
      rows={field}
      keyOf={({ kind }) => kind}
    />
  );
}

function RateCell({ rate: { value, low, high }, likings }: { rate: Rate; likings: Likings }) {
  if (value === null) return <span className="soft">No visit tells yet</span>;
  return (
    <span>
      {percent(value, likings)} ({percent(low, likings)} to {percent(high, likings)})
      <IntervalMark value={value} low={low} high={high} />
    </span>
  );
}
