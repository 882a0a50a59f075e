import { Button } from '@mantine/core';
import { useQuery } from '@tanstack/react-query';
import { useEffect, useRef } from 'react';
import { useMe } from '../app/Me.ts';
import { useOpenActs } from '../attention/acts/OpenActs.tsx';
import { percent } from '../show/amounts.ts';
import { Bidi } from '../show/Bidi.tsx';
import { dateAt, day, daysBetween, moment } from '../show/dates.ts';
import { useLikings } from '../show/Likings.tsx';
import { Severity } from '../show/Severity.tsx';
import { days, KIND_WORDS, sureness } from '../show/words.ts';
import { can } from '../signIn/can.ts';
import styles from './Alerts.module.css';
import { Causes } from './Causes.tsx';
import { Evidence } from './evidence/Evidence.tsx';
import { outOfServiceQuery } from './queries.ts';
import { targetOf } from './targetOf.ts';
import type { Alert, Story } from './types.ts';

interface AlertCardProps {
  readonly story: Story;
  readonly alert: Alert;
  readonly today: string;
  readonly isMarked: boolean;
}

/** One open alert: what it says, how sure it is, what may have brought it about, what speaks for it, who has it. */
export function AlertCard({ story, alert, today, isMarked }: AlertCardProps) {
  const likings = useLikings();
  const me = useMe();
  const open = useOpenActs();
  const ref = useRef<HTMLElement>(null);
  const { timeZone, unitId } = story.unit;
  const { data: outOfService = null } = useQuery(outOfServiceQuery(unitId));
  const probability = alert.history.at(-1)?.probability ?? alert.probability;
  const since = dateAt(Date.parse(alert.raisedAt), timeZone);
  const ago = daysBetween(since, today);
  useEffect(() => {
    if (isMarked) ref.current?.scrollIntoView({ block: 'nearest' });
  }, [isMarked]);
  return (
    <article ref={ref} className={styles.card} data-marked={isMarked} data-severity={alert.severity}>
      <header className={styles.head}>
        <Severity level={alert.severity} />
        <h3 className={styles.kind}>{KIND_WORDS[alert.kind]}</h3>
        {isMarked && <span className={styles.mark}>the alert you were sent to</span>}
      </header>
      <p>{alert.summary}</p>
      <p className="soft small">
        Since {day(since, likings.locale, today)} ({ago > 0 ? days(ago) : 'today'}) ·{' '}
        {percent(probability, likings)} sure: {sureness(probability).toLowerCase()}
      </p>
      <HandledBy alert={alert} timeZone={timeZone} />
      {alert.consequences.length > 0 && (
        <p className="small">
          It explains, and keeps quiet:{' '}
          {alert.consequences.map(({ kind }) => KIND_WORDS[kind].toLowerCase()).join(', ')}.
        </p>
      )}
      <Causes alert={alert} />
      <Evidence alert={alert} />
      {can(me, 'field') && (
        <div>
          <Button
            variant="default"
            size="xs"
            aria-haspopup="dialog"
            onClick={() => open(targetOf(story, alert, outOfService))}
          >
            Act
            <span className="hidden"> on {KIND_WORDS[alert.kind]}</span>
          </Button>
        </div>
      )}
    </article>
  );
}

function HandledBy({ alert: { acknowledged, shelved }, timeZone }: { alert: Alert; timeZone: string }) {
  const { locale } = useLikings();
  const at = (instant: string) => moment(instant, { locale, timeZone });
  if (!acknowledged && !shelved) return <p className="small">Nobody has seen to it yet.</p>;
  return (
    <p className={styles.handled}>
      {acknowledged && (
        <>
          Acknowledged {at(acknowledged.at)} by <Bidi>{acknowledged.by}</Bidi>.{' '}
        </>
      )}
      {shelved && (
        <>
          Shelved until {at(shelved.until)} by <Bidi>{shelved.by}</Bidi>.
        </>
      )}
    </p>
  );
}
