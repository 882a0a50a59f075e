import { Button, NativeSelect } from '@mantine/core';
import { useQuery, useQueryClient } from '@tanstack/react-query';
import { useState } from 'react';
import type { QuarantineReason } from '../../../shared/quarantine.ts';
import { Empty } from '../../app/Empty.tsx';
import { useMe } from '../../app/Me.ts';
import { can } from '../../signIn/can.ts';
import styles from '../care.module.css';
import { useSend } from '../useSend.ts';
import { QuarantineList } from './QuarantineList.tsx';
import { latestCountsQuery, sendAgain } from './query.ts';
import { REASON_WORDS, reasonNamed } from './reasons.ts';

/** Messages that could not be accepted, by reason, and sending them again after a mend. */
export function SetAside() {
  const client = useQueryClient();
  const [reason, setReason] = useState<QuarantineReason>();
  const { send, isBusy } = useSend(() => client.invalidateQueries({ queryKey: ['quarantine'] }));
  const mayAct = can(useMe(), 'desk');
  const { data: latest } = useQuery(latestCountsQuery);
  return (
    <>
      <div className={styles.choices}>
        <NativeSelect
          label="Reason"
          data={[
            { value: '', label: 'All reasons' },
            ...Object.entries(REASON_WORDS).map(([value, { label }]) => {
              const named = reasonNamed(value);
              const count = named && latest ? ` (${latest.counts[named] ?? 0})` : '';
              return { value, label: `${label}${count}` };
            }),
          ]}
          value={reason ?? ''}
          onChange={({ currentTarget }) => setReason(reasonNamed(currentTarget.value))}
        />
        {reason && mayAct && (
          <Button loading={isBusy} onClick={() => void send(() => sendAgain(reason))}>
            Send those again
          </Button>
        )}
      </div>
      <p className={`soft ${styles.intro}`}>
        {reason
          ? REASON_WORDS[reason].mend
          : 'Choose a reason to see what mends it, and to send its messages again after that.'}
        {reason && !mayAct && ' A dispatcher or the owner can send them again.'}
        {latest && !latest.isAll && ` The numbers are of the latest ${latest.messages} messages.`}
      </p>
      <QuarantineList
        reason={reason}
        empty={
          <Empty title={reason ? 'No message of this reason' : 'Nothing was set aside'}>
            <p>All that was sent could be read and belongs to a unit. There is nothing to do.</p>
          </Empty>
        }
      />
    </>
  );
}
