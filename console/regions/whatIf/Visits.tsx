import { Button, NativeSelect } from '@mantine/core';
import { useState } from 'react';
import type { WhatIfResult } from '../../api/types.ts';
import { amount, percent, unitOf, whole } from '../../show/amounts.ts';
import { DataTable } from '../../show/DataTable.tsx';
import { useLikings } from '../../show/Likings.tsx';
import { saveFile } from '../../show/saveFile.ts';
import { UnitLink } from '../../show/UnitLink.tsx';
import { CAUSE_WORDS, plain, sureness } from '../../show/words.ts';
import { OpenAlert } from './OpenAlert.tsx';
import { visitsCsv } from './visitsCsv.ts';
import styles from './WhatIf.module.css';
import { WithRange } from './WithRange.tsx';

type Visit = WhatIfResult['visits'][number];

/** As many as are shown at first. */
const FIRST = 20;

const ORDERS = [
  { value: 'saltLb', label: 'Most salt saved' },
  { value: 'hardDays', label: 'Most hard-water days avoided' },
] as const;

/** The visits that set a control right, those first that bring most. */
export function Visits({ visits }: { visits: readonly Visit[] }) {
  const likings = useLikings();
  const [order, setOrder] = useState<'saltLb' | 'hardDays'>('saltLb');
  const [isAll, setAll] = useState(false);
  if (visits.length === 0) {
    return (
      <section className={styles.list} aria-labelledby="visits-that-bring-most">
        <h3 id="visits-that-bring-most">Visits that bring most</h3>
        <p>No control is known to be set so wrong that a visit would pay.</p>
      </section>
    );
  }
  const sorted = [...visits].sort((a, b) => b.saves[order].value - a.saves[order].value);
  const lb = `${unitOf('lb', likings)} a year`;
  return (
    <section className={styles.list} aria-labelledby="visits-that-bring-most">
      <h3 id="visits-that-bring-most">Visits that bring most</h3>
      <div className={styles.form}>
        <NativeSelect
          label="First"
          data={ORDERS}
          value={order}
          onChange={({ currentTarget }) =>
            setOrder(currentTarget.value === 'hardDays' ? 'hardDays' : 'saltLb')
          }
        />
        <Button
          variant="default"
          onClick={() => saveFile(new Blob([visitsCsv(sorted)], { type: 'text/csv' }), 'visits.csv')}
        >
          Download CSV
        </Button>
      </div>
      <DataTable
        wideName="Visits that bring most"
        caption="What setting each control right would bring in a year to come, by its own past, with 80 % intervals. Below 0 is what it costs: a control that regenerates in time may use more."
        columns={[
          {
            header: 'Unit',
            cell: ({ unitId, siteName }) => <UnitLink unitId={unitId}>{siteName ?? unitId}</UnitLink>,
          },
          { header: 'Region', cell: ({ region }) => plain(region) },
          {
            header: 'What is wrong',
            cell: ({ cause, probability }) =>
              `${cause ? CAUSE_WORDS[cause] : 'settings do not fit'}: ${sureness(probability).toLowerCase()}, ${percent(probability, likings)}`,
          },
          {
            header: 'What to set',
            cell: ({ programmed, set }) => <Settings programmed={programmed} set={set} />,
          },
          {
            header: 'Salt saved',
            unit: lb,
            isNumber: true,
            cell: ({ saves }) => <WithRange of={saves.saltLb} quantity="lb" />,
          },
          {
            header: 'Chloride saved',
            unit: lb,
            isNumber: true,
            cell: ({ saves }) => <WithRange of={saves.chlorideLb} quantity="lb" />,
          },
          {
            header: 'Hard-water days avoided',
            unit: 'a year',
            isNumber: true,
            cell: ({ saves }) => <WithRange of={saves.hardDays} />,
          },
          {
            header: 'Open alert',
            cell: ({ unitId, alertId }) => <OpenAlert unitId={unitId} alertId={alertId} />,
          },
        ]}
        rows={isAll ? sorted : sorted.slice(0, FIRST)}
        keyOf={({ unitId }) => unitId}
      />
      {sorted.length > FIRST && !isAll && (
        <div>
          <Button variant="default" onClick={() => setAll(true)}>
            Show all {whole(sorted.length, likings)}
          </Button>
        </div>
      )}
    </section>
  );
}

function Settings({ programmed, set }: Pick<Visit, 'programmed' | 'set'>) {
  const likings = useLikings();
  return (
    <ul className={styles.settings}>
      {programmed.capacityGrains !== set.capacityGrains && (
        <li>
          {amount(programmed.capacityGrains, 'grains', likings)} →{' '}
          {amount(set.capacityGrains, 'grains', likings)}
        </li>
      )}
      {programmed.hardnessGpg !== set.hardnessGpg && (
        <li>
          {amount(programmed.hardnessGpg, 'gpg', likings)} → {amount(set.hardnessGpg, 'gpg', likings)}
        </li>
      )}
    </ul>
  );
}
