import { useQuery } from '@tanstack/react-query';
import { useState } from 'react';
import { ErrorState } from '../../app/ErrorPage.tsx';
import { PageHead } from '../../app/PageHead.tsx';
import { Progress } from '../../app/Progress.tsx';
import { companyRulesQuery, lastTrial, trialQuery } from './query.ts';
import { RulesForm } from './RulesForm.tsx';
import styles from './rules.module.css';
import { Trial } from './Trial.tsx';

/** Rules tried on the company's past, before anybody lives with them. */
export function Page() {
  const { data: rules, error, refetch } = useQuery(companyRulesQuery);
  const [trialId, setTrialId] = useState(lastTrial);
  return (
    <>
      <PageHead title="Rules" />
      <p className={`soft ${styles.intro}`}>
        Try other rules on all that your meters have reported: which alerts would be gone, new or moved, unit
        by unit. Nothing changes by trying; it takes some minutes.
      </p>
      {!rules && error && <ErrorState error={error} retry={() => void refetch()} />}
      {!rules && !error && <Progress what="Reading the rules" />}
      {rules && <RulesForm rules={rules} onStarted={setTrialId} />}
      {trialId !== undefined && <LastTrial key={trialId} trialId={trialId} />}
    </>
  );
}

function LastTrial({ trialId }: { trialId: string }) {
  const { data: trial, error, refetch } = useQuery(trialQuery(trialId));
  if (trial === undefined && error) return <ErrorState error={error} retry={() => void refetch()} />;
  return trial ? <Trial trial={trial} /> : null;
}
