import { WASTE_WORDS } from '../../../lib/salt/wasteWords.ts';
import type { WhatIfResult } from '../../api/types.ts';
import { unitOf } from '../../show/amounts.ts';
import { DataTable } from '../../show/DataTable.tsx';
import { useLikings } from '../../show/Likings.tsx';
import { UnitLink } from '../../show/UnitLink.tsx';
import { plain } from '../../show/words.ts';
import { numberWords } from './inWords.ts';
import { OpenAlert } from './OpenAlert.tsx';
import styles from './WhatIf.module.css';

type Row = WhatIfResult['wasting'][number];

/** What no setting mends, or where settings are not known: found by the accounts, not by a replay. */
export function Wasting({ wasting }: { wasting: readonly Row[] }) {
  const likings = useLikings();
  if (wasting.length === 0) return null;
  return (
    <section className={styles.list} aria-labelledby="wasted-otherwise">
      <h3 id="wasted-otherwise">Wasted otherwise</h3>
      <DataTable
        caption="Salt a year, by the rate of the days of the last twelve months that there are accounts of, that a leak or needless regenerations took, or settings that are not known. It is not in the figures above."
        columns={[
          {
            header: 'Unit',
            cell: ({ unitId, siteName }) => <UnitLink unitId={unitId}>{siteName ?? unitId}</UnitLink>,
          },
          { header: 'Region', cell: ({ region }) => plain(region) },
          { header: 'Probable cause', cell: ({ cause }) => WASTE_WORDS[cause].title },
          {
            header: 'Salt wasted',
            unit: `${unitOf('lb', likings)} a year`,
            isNumber: true,
            cell: ({ saltLb }) => numberWords(saltLb, 'lb', likings),
          },
          {
            header: 'Open alert',
            cell: ({ unitId, alertId }) => <OpenAlert unitId={unitId} alertId={alertId} />,
          },
        ]}
        rows={wasting}
        keyOf={({ unitId, cause }) => `${unitId} ${cause}`}
      />
    </section>
  );
}
