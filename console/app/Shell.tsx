import { useQuery } from '@tanstack/react-query';
import { Outlet } from '@tanstack/react-router';
import { meQuery } from '../api/queries.ts';
import { LikingsProvider } from '../show/Likings.tsx';
import { BarePage } from './BarePage.tsx';
import { MeContext } from './Me.ts';
import { Nav } from './Nav.tsx';
import { NotIn } from './NotIn.tsx';
import { Progress } from './Progress.tsx';
import styles from './Shell.module.css';
import { StatusLine, StatusProvider } from './status.tsx';
import { useLive } from './useLive.ts';

/** What stands around every page. Nothing is shown before it is known who looks. */
export function Shell() {
  const { data: me, error, refetch } = useQuery(meQuery);
  if (!me) {
    if (error) return <NotIn error={error} retry={() => void refetch()} />;
    return (
      <BarePage title="Brinebell">
        <Progress />
      </BarePage>
    );
  }
  return (
    <MeContext value={me}>
      <LikingsProvider me={me}>
        <StatusProvider>
          <div className={styles.shell}>
            <a className={styles.skip} href="#page">
              Skip to the page
            </a>
            <Nav />
            <main id="page" className={styles.page} tabIndex={-1}>
              <CutOff />
              <Outlet />
            </main>
            <StatusLine />
          </div>
        </StatusProvider>
      </LikingsProvider>
    </MeContext>
  );
}

/** Says so while what is shown may be old. */
function CutOff() {
  const hearing = useLive();
  if (hearing !== 'cut-off') return null;
  return (
    <p role="alert" className={styles.cutOff}>
      The service does not answer just now. You see what was last known; it is tried again by itself.
    </p>
  );
}
