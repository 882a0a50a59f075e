import { Button } from '@mantine/core';
import { useState } from 'react';
import { messageOf } from '../app/failure.ts';
import { useMe } from '../app/Me.ts';
import { UnitLink } from '../show/UnitLink.tsx';
import { can } from '../signIn/can.ts';
import type { Brief } from '../unit/types.ts';
import styles from './BriefBar.module.css';
import { openPdf } from './openPdf.ts';

interface BriefBarProps {
  readonly brief: Brief;
}

/** The brief in its other forms, and the way to the unit. */
export function BriefBar({ brief }: BriefBarProps) {
  const me = useMe();
  const [isBusy, setBusy] = useState(false);
  const [error, setError] = useState<string>();
  const open = async () => {
    setBusy(true);
    setError(undefined);
    try {
      await openPdf(brief.unitId, brief.visit?.visitId);
    } catch (reason) {
      setError(`The PDF cannot be had just now. ${messageOf(reason)}`);
    } finally {
      setBusy(false);
    }
  };
  return (
    <div className={styles.bar}>
      <Button variant="default" loading={isBusy} onClick={() => void open()}>
        PDF
      </Button>
      <Button variant="default" onClick={() => window.print()}>
        Print
      </Button>
      <UnitLink unitId={brief.unitId}>The unit’s story</UnitLink>
      {can(me, 'field') && <a href="#findings">Write down findings</a>}
      {error && (
        <p role="alert" className={styles.error}>
          {error}
        </p>
      )}
    </div>
  );
}
