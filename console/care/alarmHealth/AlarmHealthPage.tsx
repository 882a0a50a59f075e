import { NativeSelect } from '@mantine/core';
import { useQuery } from '@tanstack/react-query';
import { useState } from 'react';
import { Empty } from '../../app/Empty.tsx';
import { ErrorState } from '../../app/ErrorPage.tsx';
import { PageHead } from '../../app/PageHead.tsx';
import { Progress } from '../../app/Progress.tsx';
import { dayOf } from '../../show/dates.ts';
import { useLikings } from '../../show/Likings.tsx';
import styles from '../care.module.css';
import { Field } from './Field.tsx';
import { Measures } from './Measures.tsx';
import { Priorities } from './Priorities.tsx';
import { alarmHealthQuery, type Health } from './query.ts';
import { Standing } from './Standing.tsx';

/** Nothing shorter is judged by the standard, and the service takes nothing shorter. */
const WINDOWS = [30, 60, 90];

/** How well the alerts do as an alarm system, beside what is published for such. */
export function Page() {
  const [days, setDays] = useState(30);
  const { data: health, error, isPlaceholderData, refetch } = useQuery(alarmHealthQuery(days));
  return (
    <>
      <PageHead title="Alarm health" />
      <p className={`soft ${styles.intro}`}>
        An alert that comes too often, or that nobody sees to, is soon no alert. These are the measures by
        which alarm systems are judged, beside their published targets.
      </p>
      <div className={styles.choices}>
        <NativeSelect
          label="Window"
          description="Measures of less than 30 days say too little."
          data={WINDOWS.map((value) => ({ value: String(value), label: `The last ${value} days` }))}
          value={String(days)}
          onChange={({ currentTarget }) => setDays(Number(currentTarget.value))}
        />
      </div>
      {error && <ErrorState error={error} retry={() => void refetch()} />}
      {!error && (!health || isPlaceholderData) && <Progress what="Going through the alerts" />}
      {!error && health && !isPlaceholderData && <Told health={health} />}
    </>
  );
}

function Told({ health }: { health: Health }) {
  const likings = useLikings();
  const { from, until, alarms, measures, priorities, standing, field } = health;
  if (alarms === 0 && standing.open === 0) {
    return (
      <Empty title="No alert in this window">
        <p>Choose a longer one. Where meters report and nothing is wrong, there is nothing to judge.</p>
      </Empty>
    );
  }
  return (
    <>
      <p className={styles.intro}>
        {alarms} {alarms === 1 ? 'alert was' : 'alerts were'} raised from {dayOf(from, likings)} to{' '}
        {dayOf(until, likings)}.
      </p>
      <section className={styles.part} aria-labelledby="measures">
        <h2 id="measures">Measures and targets</h2>
        <Measures measures={measures} />
      </section>
      <section className={styles.part} aria-labelledby="priorities">
        <h2 id="priorities">How urgent they were</h2>
        <Priorities priorities={priorities} alarms={alarms} />
      </section>
      <section className={styles.part} aria-labelledby="standing">
        <h2 id="standing">Standing now</h2>
        <Standing standing={standing} />
      </section>
      <section className={styles.part} aria-labelledby="field">
        <h2 id="field">What technicians found</h2>
        {field.length > 0 ? (
          <Field field={field} />
        ) : (
          <p className="soft">No alert was raised in this window, so there was none to visit.</p>
        )}
      </section>
    </>
  );
}
