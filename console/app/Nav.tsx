import { Link, useRouter, useRouterState } from '@tanstack/react-router';
import { useState } from 'react';
import { forgetAnswers } from '../offline/forget.ts';
import { Bidi } from '../show/Bidi.tsx';
import { ROLE_WORDS } from '../show/words.ts';
import { roleOf } from '../signIn/can.ts';
import { endSession } from '../signIn/session.ts';
import { useMe } from './Me.ts';
import styles from './Nav.module.css';

/** The pages for the role of whoever has signed in. On a phone it folds under a button. */
export function Nav() {
  const me = useMe();
  const path = useRouterState({ select: ({ location }) => location.pathname });
  // It is open on one page: whoever has gone to another wants to see that, not the way there.
  const [openOn, setOpenOn] = useState<string>();
  const isOpen = openOn === path;
  return (
    <header className={styles.bar}>
      <div className={styles.top}>
        <Link to="/" className={styles.name}>
          <img src="/mark.svg" alt="" width="26" height="26" />
          Brinebell
        </Link>
        <button
          type="button"
          className={styles.fold}
          aria-expanded={isOpen}
          aria-controls="navigation"
          onClick={() => setOpenOn(isOpen ? undefined : path)}
        >
          {isOpen ? 'Close' : 'Menu'}
        </button>
      </div>
      <div id="navigation" className={styles.folded} data-open={isOpen}>
        <p className={styles.company}>
          <Bidi>{me.company.name}</Bidi>
        </p>
        <nav aria-label="Pages">
          <ul className={styles.pages}>
            {useLabelledPages().map(({ to, label }) => (
              <li key={to}>
                <Link
                  to={to}
                  className={styles.page}
                  activeOptions={{ exact: to === '/', includeSearch: false }}
                  activeProps={{ 'aria-current': 'page' }}
                >
                  {label}
                </Link>
              </li>
            ))}
          </ul>
        </nav>
        <div className={styles.person}>
          <p>
            <Bidi>{me.person?.name ?? 'A key of the company'}</Bidi>
            <br />
            <span className="soft small">{ROLE_WORDS[roleOf(me)]}</span>
          </p>
          <Link to="/sign-in" search={{ out: true }} onClick={signOut} className={styles.out}>
            Sign out
          </Link>
        </div>
      </div>
    </header>
  );
}

function signOut() {
  endSession();
  void forgetAnswers();
}

/** The pages of the table of routes that have a label, in its order. */
function useLabelledPages(): { to: string; label: string }[] {
  const { routesById } = useRouter();
  const role = roleOf(useMe());
  return Object.values(routesById).flatMap(({ fullPath, options: { staticData } }) => {
    const { label, roles } = staticData ?? {};
    return label !== undefined && (roles?.includes(role) ?? true) ? [{ to: fullPath, label }] : [];
  });
}
