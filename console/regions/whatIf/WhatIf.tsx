import { Button } from '@mantine/core';
import { ErrorState } from '../../app/ErrorPage.tsx';
import { whole } from '../../show/amounts.ts';
import { useLikings } from '../../show/Likings.tsx';
import type { Progressed } from './ask.ts';
import { questionWords } from './question.ts';
import { Result } from './Result.tsx';
import { useWhatIf } from './useWhatIf.ts';
import styles from './WhatIf.module.css';
import { WhatIfForm } from './WhatIfForm.tsx';

/** What a year would have been under other settings, by each unit's own past. */
export function WhatIf({ regions }: { regions: readonly string[] }) {
  const likings = useLikings();
  const { asked, ask, stop } = useWhatIf();
  return (
    <section className={styles.part} aria-labelledby="what-if">
      <h2 id="what-if">What if</h2>
      <p className={`soft ${styles.intro}`}>
        What a year to come would be were the controls set otherwise. Each unit’s past use is run through
        again under both settings; nothing is changed at any control. Limits of your water authority, local
        codes and licensed practice prevail over these figures.
      </p>
      <WhatIfForm
        regions={regions}
        isBusy={asked.state === 'working'}
        onAsk={(question) => void ask(question)}
      />
      {asked.state === 'working' && <Working progress={asked.progress} onStop={stop} />}
      {asked.state === 'stopped' && <p role="status">Stopped. Nothing was kept of it.</p>}
      {asked.state === 'failed' && <ErrorState error={asked.error} retry={() => void ask(asked.question)} />}
      <div aria-live="polite">
        {asked.state === 'done' && (
          <Result outcome={asked.outcome} asked={questionWords(asked.question, likings)} />
        )}
      </div>
    </section>
  );
}

function Working({ progress, onStop }: { progress: Progressed | undefined; onStop: () => void }) {
  const likings = useLikings();
  return (
    <div className={styles.working}>
      <progress
        aria-label="Units worked out"
        {...(progress && { value: progress.done, max: Math.max(1, progress.of) })}
      />
      <span className="numbers">
        {progress
          ? `${whole(progress.done, likings)} of ${whole(progress.of, likings)} units`
          : 'Looking up the units …'}
      </span>
      <Button variant="default" size="xs" onClick={onStop}>
        Stop
      </Button>
    </div>
  );
}
