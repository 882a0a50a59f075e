import { Button } from '@mantine/core';
import { useState } from 'react';
import { messageOf } from '../app/failure.ts';
import { useTell } from '../app/status.tsx';
import { download, type FileName } from './download.ts';
import styles from './RegionsPage.module.css';

const FILES: readonly { name: FileName; label: string }[] = [
  { name: 'salt.csv', label: 'Download CSV' },
  { name: 'salt.parquet', label: 'Download Parquet' },
];

/** The accounts of all regions and months as files, in US units. */
export function Downloads() {
  const tell = useTell();
  const [busy, setBusy] = useState<FileName>();
  const get = async (name: FileName) => {
    setBusy(name);
    try {
      await download(name);
      tell({ text: `Downloaded: ${name}, all regions and months, in US units.` });
    } catch (reason) {
      tell({ text: `${name} could not be downloaded. ${messageOf(reason)}`, failed: true });
    } finally {
      setBusy(undefined);
    }
  };
  return (
    <div className={styles.downloads}>
      {FILES.map(({ name, label }) => (
        <Button
          key={name}
          variant="default"
          loading={busy === name}
          disabled={busy !== undefined}
          onClick={() => void get(name)}
        >
          {label}
        </Button>
      ))}
    </div>
  );
}
