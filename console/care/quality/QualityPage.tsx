import { Link, useSearch } from '@tanstack/react-router';
import { PageHead } from '../../app/PageHead.tsx';
import { Conflicts } from './Conflicts.tsx';
import styles from './QualityPage.module.css';
import { SetAside } from './SetAside.tsx';
import { Silent } from './Silent.tsx';

const PARTS = [
  { show: 'set-aside', label: 'Set aside', Part: SetAside },
  { show: 'silent', label: 'Silent meters', Part: Silent },
  { show: 'conflicting', label: 'Contradictions', Part: Conflicts },
] as const;

/** What came in and could not be used, and what did not come in. */
export function Page() {
  const { show }: { show?: unknown } = useSearch({ strict: false });
  const { Part, show: shown } = PARTS.find((part) => part.show === show) ?? PARTS[0];
  return (
    <>
      <PageHead title="Data quality" />
      <nav aria-label="Parts of this page">
        <ul className={styles.parts}>
          {PARTS.map((part) => (
            <li key={part.show}>
              <Link
                to="/data-quality"
                search={{ show: part.show }}
                className={styles.part}
                {...(part.show === shown && { 'aria-current': 'true' as const })}
              >
                {part.label}
              </Link>
            </li>
          ))}
        </ul>
      </nav>
      <Part />
    </>
  );
}
