import type { components } from '../../api/generated/api.d.ts';
import { moment } from '../../show/dates.ts';
import { useLikings } from '../../show/Likings.tsx';
import styles from '../care.module.css';
import { RawMessage } from '../RawMessage.tsx';
import { REASON_WORDS } from './reasons.ts';

type Quarantined = components['schemas']['Quarantined'];

/** Messages that were set aside: why, whose, when, and as they came. */
export function Messages({ messages }: { messages: readonly Quarantined[] }) {
  const likings = useLikings();
  return (
    <ul className={styles.messages}>
      {messages.map(({ reason, detail, raw, sender, receivedAt }) => (
        <li key={`${receivedAt} ${sender} ${raw}`} className={styles.message}>
          <span className={styles.why}>{REASON_WORDS[reason].label}</span>
          <span dir="auto">{detail}</span>
          <span className="soft small">
            From <bdi>{sender}</bdi>, {moment(receivedAt, { ...likings, named: true })}
          </span>
          <RawMessage text={raw} />
        </li>
      ))}
    </ul>
  );
}
