import styles from './AlarmHealthPage.module.css';

export type Verdict = 'met' | 'manageable' | 'not-met' | 'not-judged';

const WORDS: Readonly<Record<Verdict, string>> = {
  met: 'Met',
  manageable: 'Not met, but can be managed',
  'not-met': 'Not met',
  'not-judged': 'Too few alerts to judge',
};

/** A word with a mark: a tick, a cross, a dash. */
export function Met({ verdict }: { verdict: Verdict }) {
  return (
    <span className={`${styles.verdict} ${styles[verdict]}`}>
      <svg
        viewBox="0 0 12 12"
        width="12"
        height="12"
        aria-hidden="true"
        fill="none"
        stroke="currentColor"
        strokeWidth="2"
      >
        {verdict === 'met' && <path d="M1.5 6.5 4.5 9.5 10.5 2.5" />}
        {verdict === 'not-met' && <path d="M2 2 10 10M10 2 2 10" />}
        {(verdict === 'not-judged' || verdict === 'manageable') && <path d="M1.5 6H10.5" />}
      </svg>
      {WORDS[verdict]}
    </span>
  );
}
