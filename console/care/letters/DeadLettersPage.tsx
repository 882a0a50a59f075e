import { Button } from '@mantine/core';
import { useQuery } from '@tanstack/react-query';
import { Empty } from '../../app/Empty.tsx';
import { ErrorState } from '../../app/ErrorPage.tsx';
import { useMe } from '../../app/Me.ts';
import { PageHead } from '../../app/PageHead.tsx';
import { Progress } from '../../app/Progress.tsx';
import { moment } from '../../show/dates.ts';
import { useLikings } from '../../show/Likings.tsx';
import { can } from '../../signIn/can.ts';
import styles from '../care.module.css';
import { RawMessage } from '../RawMessage.tsx';
import { useSend } from '../useSend.ts';
import { deadLettersQuery, sendAllAgain } from './query.ts';

/** What the service does with the messages of a queue, as people would say it. */
const QUEUE_WORDS: Readonly<Record<string, string>> = {
  ingest: 'taking in a report',
  assess: 'judging a unit',
  notify: 'telling somebody of an alert',
};

/** Messages that could not be handled however often it was tried, and trying them again. */
export function Page() {
  const likings = useLikings();
  const mayAct = can(useMe(), 'desk');
  const { data: letters, error, refetch } = useQuery(deadLettersQuery);
  const { send, isBusy } = useSend(refetch);
  return (
    <>
      <PageHead title="Dead letters">
        {mayAct && letters && letters.length > 0 && (
          <Button loading={isBusy} onClick={() => void send(sendAllAgain)}>
            Try all again
          </Button>
        )}
      </PageHead>
      <p className={`soft ${styles.intro}`}>
        Messages that failed time and again and were put aside, so that others could go on. Mend what is
        wrong, then have them tried again.
        {!mayAct && ' A dispatcher or the owner can do that.'}
      </p>
      {!letters && error && <ErrorState error={error} retry={() => void refetch()} />}
      {!letters && !error && <Progress what="Reading dead letters" />}
      {letters?.length === 0 && (
        <Empty title="None">
          <p>Every message could be handled. There is nothing to do.</p>
        </Empty>
      )}
      {letters && letters.length > 0 && (
        <ul className={styles.messages}>
          {letters.map(({ id, queue, body, receives, reason, parkedAt }) => (
            <li key={`${queue} ${id}`} className={styles.message}>
              <span className={styles.why}>Failed at {QUEUE_WORDS[queue] ?? queue}</span>
              <span dir="auto">{reason}</span>
              <span className="soft small">
                Tried {receives === 1 ? 'once' : `${receives} times`}, put aside{' '}
                {moment(parkedAt, { ...likings, named: true })}
              </span>
              <RawMessage text={body} />
            </li>
          ))}
        </ul>
      )}
    </>
  );
}
