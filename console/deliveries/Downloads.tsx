import { Button } from '@mantine/core';
import { useState } from 'react';
import { keepFetched } from '../api/openFetched.ts';
import { messageOf } from '../app/failure.ts';
import { useTell } from '../app/status.tsx';
import type { Choice } from './choice.ts';
import styles from './Deliveries.module.css';
import { deliveriesFile } from './query.ts';

const NAME = 'deliveries.csv';

/** The units on paper, or as a file in US units. */
export function Downloads({ choice }: { choice: Choice }) {
  const tell = useTell();
  const [isBusy, setBusy] = useState(false);
  const get = async () => {
    setBusy(true);
    try {
      await keepFetched(NAME, () => deliveriesFile(choice));
      tell({ text: `Downloaded: ${NAME}, the units as chosen, in US units.` });
    } catch (reason) {
      tell({ text: `${NAME} could not be downloaded. ${messageOf(reason)}`, failed: true });
    } finally {
      setBusy(false);
    }
  };
  return (
    <div className={styles.downloads}>
      <Button variant="default" onClick={() => window.print()}>
        Print
      </Button>
      <Button variant="default" loading={isBusy} onClick={() => void get()}>
        Download CSV
      </Button>
    </div>
  );
}
