import { Button } from '@mantine/core';
import { useQuery } from '@tanstack/react-query';
import { lazy, Suspense, useState } from 'react';
import { ErrorState } from '../app/ErrorPage.tsx';
import { Progress } from '../app/Progress.tsx';
import { day } from '../show/dates.ts';
import { useLikings } from '../show/Likings.tsx';
import { Programmed } from './Programmed.tsx';
import { adviceQuery } from './queries.ts';
import styles from './Settings.module.css';
import { SettingsTable } from './SettingsTable.tsx';
import type { StoryUnit } from './types.ts';

const TradeOff = lazy(async () => ({ default: (await import('../figures/TradeOff.tsx')).TradeOff }));

/** What is programmed on the control, and what its own past year speaks for. That takes a second: it is asked for. */
export function Settings({ unit }: { unit: StoryUnit }) {
  const [isOpen, setOpen] = useState(false);
  return (
    <section aria-labelledby="settings">
      <h2 id="settings">Settings</h2>
      {isOpen ? (
        <AdviceOf unit={unit} />
      ) : (
        <div className={styles.closed}>
          <Programmed unit={unit} />
          <Button variant="default" onClick={() => setOpen(true)}>
            Compare with those advised
          </Button>
        </div>
      )}
    </section>
  );
}

function AdviceOf({ unit }: { unit: StoryUnit }) {
  const { locale } = useLikings();
  const { data, error, refetch } = useQuery(adviceQuery(unit.unitId));
  if (error && !data) return <ErrorState error={error} retry={() => void refetch()} />;
  if (!data) return <Progress what="Replaying its past year under other settings" />;
  const { advice, refused } = data;
  if (!advice) {
    return (
      <div className={styles.closed}>
        <Programmed unit={unit} />
        <div className={styles.refused}>
          <p>
            <strong>Nothing is advised:</strong> {refused?.why}.
          </p>
          {refused && <p>{refused.whatToDo}</p>}
        </div>
      </div>
    );
  }
  const { history } = advice;
  return (
    <div className={styles.advice}>
      <p className="soft">
        From its own {history.days} days, {day(history.from, locale)} to {day(history.to, locale)}
        {history.missingDays > 0 && `, of which ${history.missingDays} were not reported`}; told as a year of
        each.
      </p>
      {!advice.withinLimit && (
        <p className={styles.refused}>
          No settings keep hard water to {advice.mostHardDays} days a year here; these come closest.
        </p>
      )}
      <SettingsTable advice={advice} />
      <Suspense fallback={<Progress what="Drawing the trade-off" />}>
        <TradeOff advice={advice} />
      </Suspense>
    </div>
  );
}
