import { useQuery } from '@tanstack/react-query';
import { useParams, useSearch } from '@tanstack/react-router';
import { ErrorState } from '../app/ErrorPage.tsx';
import { useMe } from '../app/Me.ts';
import { PageHead } from '../app/PageHead.tsx';
import { Progress } from '../app/Progress.tsx';
import { useKept } from '../offline/useKept.ts';
import { moment } from '../show/dates.ts';
import { useLikings } from '../show/Likings.tsx';
import { can } from '../signIn/can.ts';
import { briefQuery } from '../unit/queries.ts';
import { BriefBar } from './BriefBar.tsx';
import styles from './BriefPage.module.css';
import { BriefSheet } from './BriefSheet.tsx';
import { Findings } from './findings/Findings.tsx';
import { Waiting } from './outbox/Waiting.tsx';
import './print.css';

const KEPT_WORDS = {
  keeping: 'Being kept on this device …',
  kept: 'Kept on this device: it opens without a network too.',
  'not-kept': 'This browser keeps nothing: without a network it does not open again.',
} as const;

/** What to know before a visit, on one narrow page, and what was found, to be written down there. */
export function Page() {
  const { unitId = '' } = useParams({ strict: false });
  const { visitId: asked } = useSearch({ strict: false }) as { visitId?: unknown };
  const visitId = typeof asked === 'string' ? asked : undefined;
  const likings = useLikings();
  const me = useMe();
  const { data: brief, error, refetch } = useQuery(briefQuery(unitId, visitId));
  const kept = useKept(brief !== undefined, refetch);
  if (!brief) {
    return (
      <>
        <PageHead title="Visit brief" />
        {error ? (
          <ErrorState error={error} retry={() => void refetch()} />
        ) : (
          <Progress what="Writing the brief" />
        )}
      </>
    );
  }
  const site = brief.siteName ?? brief.siteId;
  return (
    <div className={styles.page}>
      <PageHead title={site} />
      <BriefBar brief={brief} />
      <p className={`soft small ${styles.asOf}`}>
        As of {moment(brief.at, { locale: likings.locale, timeZone: brief.timeZone })}, site time.{' '}
        {KEPT_WORDS[kept]}
      </p>
      <Waiting />
      <BriefSheet brief={brief} system={likings.units} />
      {can(me, 'field') && <Findings key={brief.unitId} brief={brief} />}
    </div>
  );
}
