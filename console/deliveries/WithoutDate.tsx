import { amount, unitOf } from '../show/amounts.ts';
import { Bidi } from '../show/Bidi.tsx';
import { DataTable } from '../show/DataTable.tsx';
import { day } from '../show/dates.ts';
import { useLikings } from '../show/Likings.tsx';
import { UnitLink } from '../show/UnitLink.tsx';
import { plain } from '../show/words.ts';
import styles from './Deliveries.module.css';
import type { UnitByRate } from './types.ts';
import { roundWords, units, WHY_WORDS } from './words.ts';

/** Units that use salt and have no date, since nothing is known of their tanks. */
export function WithoutDate({ rows, today }: { rows: readonly UnitByRate[]; today: string }) {
  const likings = useLikings();
  if (rows.length === 0) return null;
  return (
    <details id="without-date" className={styles.more}>
      <summary>
        <h2>{units(rows.length, likings)} without a date</h2>
      </summary>
      <p className="soft">
        Nothing is known of how full their tanks are. They are in the bags of each week by the salt that they
        use, and have a day in none. A level sensor gives a house a date; so does its tank’s size in the
        registry together with reports of visits that say how much salt was brought.
      </p>
      <DataTable
        caption="Salt that each uses, and why it has no date"
        columns={[
          {
            header: 'Unit',
            cell: ({ unitId, siteId, siteName }) => (
              <UnitLink unitId={unitId}>
                <Bidi>{siteName ?? siteId}</Bidi>
              </UnitLink>
            ),
          },
          {
            header: 'Uses about',
            unit: `${unitOf('lb', likings)} a week`,
            isNumber: true,
            cell: ({ lbPerWeek }) => amount(lbPerWeek, 'lb', likings),
          },
          { header: 'Round', cell: ({ round }) => roundWords(round) },
          { header: 'Region', cell: ({ region }) => plain(region) },
          { header: 'Why', cell: ({ why }) => WHY_WORDS[why] },
          {
            header: 'Visit planned',
            cell: ({ visits: [visit] }) => (visit ? day(visit.date, likings.locale, today) : '–'),
          },
        ]}
        rows={rows}
        keyOf={({ unitId }) => unitId}
        wideName="Units without a date"
      />
    </details>
  );
}
