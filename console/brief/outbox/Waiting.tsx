import { Button } from '@mantine/core';
import { Bidi } from '../../show/Bidi.tsx';
import { moment } from '../../show/dates.ts';
import { useLikings } from '../../show/Likings.tsx';
import { dropWaiting, type Waiting as Entry } from './outbox.ts';
import { useOutbox } from './useOutbox.ts';
import styles from './Waiting.module.css';

/** Reports that are on this device and not with the service yet, said plainly; nothing where none is. */
export function Waiting() {
  const { entries, sendNow, isBusy } = useOutbox();
  if (entries.length === 0) return null;
  return (
    <section className={styles.waiting} aria-labelledby="waiting">
      <h2 id="waiting">
        {entries.length === 1 ? '1 report is not sent yet' : `${entries.length} reports are not sent yet`}
      </h2>
      <p>
        They are kept on this device, and go out by themselves as soon as the service answers while this page
        is open.
      </p>
      <ul>
        {entries.map((entry) => (
          <WaitingEntry key={entry.id} entry={entry} />
        ))}
      </ul>
      <Button variant="default" size="xs" loading={isBusy} onClick={() => void sendNow()}>
        Send now
      </Button>
    </section>
  );
}

function WaitingEntry({ entry: { id, site, keptAt, refused } }: { entry: Entry }) {
  const likings = useLikings();
  return (
    <li>
      <strong>
        <Bidi>{site}</Bidi>
      </strong>
      , written {moment(keptAt, likings)}
      {refused !== undefined && (
        <>
          <br />
          The service refuses it: {refused}{' '}
          <Button variant="default" size="xs" onClick={() => dropWaiting(id)}>
            Throw it away
          </Button>
        </>
      )}
    </li>
  );
}
