import { shareTold } from '../../../lib/salt/rounding.ts';
import { unitOf, whole } from '../../show/amounts.ts';
import { DataTable } from '../../show/DataTable.tsx';
import { useLikings } from '../../show/Likings.tsx';
import { CHANCE_WORDS, estimateWords, shownEstimate, sumWords } from '../intervals.ts';
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
  const { value: used, bounds } = estimateWords(shownEstimate(saltLb, 'lb', likings), likings);
  const brought = sumWords(deliveredSaltLb, 'lb', likings);
  const unit = unitOf('lb', likings);
  const rows = [
    {
      name: 'Salt used',
      lb: saltLb.value,
      words: used,
      about:
        bounds === undefined
          ? 'All that regenerations used.'
          : isOneMonth
            ? `All that regenerations used; ${CHANCE_WORDS} interval ${bounds} ${unit}.`
            : `All that regenerations used; ${bounds} ${unit} with ${CHANCE_WORDS} or more: the bounds of the months are added up, which is wider than need be.`,
    },
    {
      name: 'Salt brought',
      lb: deliveredSaltLb,
      words: deliveredSaltLb > 0 ? brought : 'none recorded',
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
            cell: ({ words }) => words,
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
          : `Days with hard water: ${whole(hardDays, likings)} of ${whole(daysCounted, likings)} days of units reported (${shareTold(hardDays / Math.max(hardDays, daysCounted))}). ${sumWords(hardGallons, 'bulkGallons', likings)} ${unitOf('bulkGallons', likings)} came through beds that had run out.`}
      </p>
    </>
  );
}
