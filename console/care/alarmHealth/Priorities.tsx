import { percent, whole } from '../../show/amounts.ts';
import { useLikings } from '../../show/Likings.tsx';
import { Severity } from '../../show/Severity.tsx';
import styles from './AlarmHealthPage.module.css';
import type { Health } from './query.ts';

const LEVELS = ['urgent', 'soon', 'routine'] as const;

/** How the alerts of the window split by severity. */
export function Priorities({ priorities, alarms }: Pick<Health, 'priorities' | 'alarms'>) {
  const likings = useLikings();
  const countOf = (level: (typeof LEVELS)[number]) => priorities[level] ?? 0;
  const share = (level: (typeof LEVELS)[number]) => (alarms > 0 ? countOf(level) / alarms : 0);
  return (
    <dl className={styles.facts}>
      {LEVELS.map((level) => (
        <div key={level}>
          <dt>
            <Severity level={level} />
          </dt>
          <dd>
            {whole(countOf(level), likings)}{' '}
            <span className="soft">
              {countOf(level) === 1 ? 'alert' : 'alerts'}
              {alarms > 0 && `, ${percent(share(level), likings)}`}
            </span>
            <svg className={styles.split} viewBox="0 0 100 8" preserveAspectRatio="none" aria-hidden="true">
              <rect width="100" height="8" fill="var(--sunken)" />
              <rect width={share(level) * 100} height="8" fill={`var(--${level})`} />
            </svg>
          </dd>
        </div>
      ))}
    </dl>
  );
}
