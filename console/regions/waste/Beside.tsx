import { convert, count, percent, unitOf, whole } from '../../show/amounts.ts';
import { DataTable } from '../../show/DataTable.tsx';
import { useLikings } from '../../show/Likings.tsx';
import { boundsWords, chanceWords, shownEstimate } from '../intervals.ts';
import { AmountBar } from './AmountBar.tsx';
import type { Period } from './period.ts';
import styles from './Waste.module.css';

interface BesideProps {
  readonly period: Period;
  readonly title: string;
  readonly isOneMonth: boolean;
}

/** Salt brought beside salt used, and the days on which water came through hard. */
export function Beside({ period, title, isOneMonth }: BesideProps) {
  const likings = useLikings();
  const { saltLb, deliveredSaltLb, hardDays, hardGallons, daysCounted } = period;
  const most = Math.max(saltLb.value, deliveredSaltLb);
  const bounds = boundsWords(shownEstimate(saltLb, 'lb', likings), likings);
  const unit = unitOf('lb', likings);
  const chance = chanceWords(likings);
  const rows = [
    {
      name: 'Salt used',
      lb: saltLb.value,
      about:
        bounds === undefined
          ? 'All that regenerations used.'
          : isOneMonth
            ? `All that regenerations used; ${chance} interval ${bounds} ${unit}.`
            : `All that regenerations used; ${bounds} ${unit} with ${chance} or more: the bounds of the months are added up, which is wider than need be.`,
    },
    {
      name: 'Salt brought',
      lb: deliveredSaltLb,
      about:
        'What technicians said they put in. Salt that households bought themselves is not in it, and tanks hold salt from month to month: it need not match.',
    },
  ];
  return (
    <>
      <DataTable
        caption={`Salt brought and used: ${title}.`}
        columns={[
          { header: 'Salt', cell: ({ name }) => name },
          {
            header: 'Amount',
            unit,
            isNumber: true,
            cell: ({ lb }) => count(convert(lb, 'lb', likings), likings),
          },
          {
            header: 'Beside each other',
            cell: ({ lb, name }) => <AmountBar value={lb} most={most} isHatched={name === 'Salt brought'} />,
          },
          {
            header: 'What is in it',
            cell: ({ about }) => <span className={styles.about}>{about}</span>,
          },
        ]}
        rows={rows}
        keyOf={({ name }) => name}
        wideName={`Salt brought and used, ${title}`}
      />
      <p className={styles.lead}>
        {hardDays === 0
          ? 'No water came through hard on the days reported.'
          : `Days with hard water: ${whole(hardDays, likings)} of ${whole(daysCounted, likings)} days of units reported (${percent(hardDays / Math.max(hardDays, daysCounted), likings)}). ${count(convert(hardGallons, 'gallons', likings), likings)} ${unitOf('gallons', likings)} came through beds that had run out.`}
      </p>
    </>
  );
}
