import { Button } from '@mantine/core';
import { Fragment, useState } from 'react';
import { messageOf } from '../app/failure.ts';
import { useTell } from '../app/status.tsx';
import { download, type FileName } from './download.ts';
import styles from './RegionsPage.module.css';

const FILES: readonly { readonly name: FileName; readonly label: string; readonly about: string }[] = [
  {
    name: 'accounts.csv',
    label: 'Accounts, CSV',
    about: 'What this page shows, of all regions and months: with intervals, and what is estimated apart.',
  },
  {
    name: 'accounts.parquet',
    label: 'Accounts, Parquet',
    about: 'The same as Apache Parquet, not rounded.',
  },
  {
    name: 'accounts-shared.csv',
    label: 'Accounts to share, CSV',
    about:
      'The same for others than the company. A figure of too few units, or of which one unit makes most, is withheld, since a household could be read out of it; so is another where it could be had by subtraction, and months that go on yet. What is withheld is left empty, never 0, and a column says why.',
  },
  {
    name: 'dictionary.csv',
    label: 'Data dictionary, CSV',
    about: 'What each column of these files is, its unit, and how it is worked out.',
  },
  {
    name: 'salt.csv',
    label: 'Salt as reported, CSV',
    about: 'Fewer columns, as they have always been: nothing is put in the place of days without a report.',
  },
  { name: 'salt.parquet', label: 'Salt as reported, Parquet', about: 'The same as Apache Parquet.' },
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
    <section className={styles.part} aria-labelledby="files">
      <h2 id="files">Downloads</h2>
      <p className={`soft ${styles.intro}`}>All regions and months, in US units whatever you see here.</p>
      <dl className={styles.files}>
        {FILES.map(({ name, label, about }) => (
          <Fragment key={name}>
            <dt>
              <Button
                variant="default"
                loading={busy === name}
                disabled={busy !== undefined}
                onClick={() => void get(name)}
              >
                {label}
              </Button>
            </dt>
            <dd>{about}</dd>
          </Fragment>
        ))}
      </dl>
    </section>
  );
}
