import { PARTS_CAUTION, shareTold } from '../../../lib/salt/rounding.ts';
import { WASTE_WORDS } from '../../../lib/salt/wasteWords.ts';
import { unitOf } from '../../show/amounts.ts';
import { DataTable } from '../../show/DataTable.tsx';
import { useLikings } from '../../show/Likings.tsx';
import { estimateWords, partWords, shownEstimate } from '../intervals.ts';
import { AmountBar } from './AmountBar.tsx';
import { MENDS } from './mends.ts';
import type { Period } from './period.ts';
import styles from './Waste.module.css';

/** Bars of the salt that the water would not have needed, one a cause, with what each is and what mends it. */
export function ByCause({ period, title }: { period: Period; title: string }) {
  const likings = useLikings();
  const { saltLb, wasted, wastedLb } = period;
  const spent = wasted.filter(({ lb }) => lb > 0);
  const none = wasted.filter(({ lb }) => lb <= 0).map(({ cause }) => WASTE_WORDS[cause].title.toLowerCase());
  const ofUsed = (lb: number) => (saltLb.value > 0 ? shareTold(lb / saltLb.value) : '–');
  if (spent.length === 0) return <p>No salt was booked as spent in vain: {title}.</p>;
  const { value: used } = estimateWords(shownEstimate(saltLb, 'lb', likings), likings);
  const unit = unitOf('lb', likings);
  const most = spent[0]?.lb ?? 0;
  return (
    <>
      <p className={styles.lead}>
        Of {used} {unit} of salt used, {partWords(wastedLb, 'lb', likings)} {unit} ({ofUsed(wastedLb)}) went
        beyond what the water needed.
      </p>
      <DataTable
        caption={`Salt that the water did not need, by cause: ${title}. Counted at regenerations that were reported; no interval is worked out for it. ${PARTS_CAUTION}`}
        columns={[
          { header: 'Cause', cell: ({ cause }) => WASTE_WORDS[cause].title },
          {
            header: 'Salt',
            unit: unitOf('lb', likings),
            isNumber: true,
            cell: ({ lb }) => partWords(lb, 'lb', likings),
          },
          { header: 'Of all used', isNumber: true, cell: ({ lb }) => ofUsed(lb) },
          {
            header: 'Beside each other',
            cell: ({ lb }) => <AmountBar value={lb} most={most} />,
          },
          {
            header: 'What it is, what mends it',
            cell: ({ cause }) => (
              <span className={styles.about}>
                {WASTE_WORDS[cause].about} {MENDS[cause]}
              </span>
            ),
          },
        ]}
        rows={spent}
        keyOf={({ cause }) => cause}
        wideName={`Salt that the water did not need, ${title}`}
      />
      {none.length > 0 && <p className="soft small">No salt was booked under: {none.join(', ')}.</p>}
    </>
  );
}
