import { Button } from '@mantine/core';
import { useQueryClient } from '@tanstack/react-query';
import { useState } from 'react';
import { messageOf } from '../../app/failure.ts';
import { useTell } from '../../app/status.tsx';
import { companyRulesQuery, putInForce, type Rules } from './query.ts';
import styles from './rules.module.css';

/** Puts the rules of a trial in force. It touches every alert of the fleet, so it is asked about, and can be undone. */
export function PutInForce({ rules }: { readonly rules: Rules }) {
  const tell = useTell();
  const client = useQueryClient();
  const [isAsking, setAsking] = useState(false);
  const [isBusy, setBusy] = useState(false);
  const put = async (wanted: Rules) => {
    const before = await putInForce(wanted);
    client.setQueryData(companyRulesQuery.queryKey, wanted);
    return before;
  };
  const act = async () => {
    setBusy(true);
    try {
      const before = await put(rules);
      const undo = async () => {
        await put(before);
      };
      tell({ text: 'The rules are in force. Alerts change as the units are looked at anew.', undo });
      setAsking(false);
    } catch (reason) {
      tell({ text: `The rules were not put in force. ${messageOf(reason)}`, failed: true });
    } finally {
      setBusy(false);
    }
  };
  if (!isAsking) {
    return (
      <Button variant="default" className={styles.try ?? ''} onClick={() => setAsking(true)}>
        Put these rules in force …
      </Button>
    );
  }
  return (
    <div className={styles.ask}>
      <p>
        They stand instead of what the company has overridden so far. Every unit is looked at anew, its past
        too: alerts may go, come or change, and people are told of those that do.
      </p>
      <div className={styles.next}>
        <Button loading={isBusy} onClick={() => void act()}>
          Put them in force
        </Button>
        <Button variant="default" onClick={() => setAsking(false)}>
          Not now
        </Button>
      </div>
    </div>
  );
}
