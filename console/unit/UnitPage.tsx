import { useQuery } from '@tanstack/react-query';
import { useParams } from '@tanstack/react-router';
import { lazy, Suspense, useMemo, useState } from 'react';
import { useServiceNow } from '../api/useServiceNow.ts';
import { Empty } from '../app/Empty.tsx';
import { ErrorState } from '../app/ErrorPage.tsx';
import { PageHead } from '../app/PageHead.tsx';
import { Progress } from '../app/Progress.tsx';
import { OpenActsProvider } from '../attention/acts/OpenActs.tsx';
import { dateAt, daysLater } from '../show/dates.ts';
import { Alerts } from './Alerts.tsx';
import { Ledger } from './Ledger.tsx';
import { storyQuery } from './queries.ts';
import { type Range, RangeChoice } from './RangeChoice.tsx';
import { Settings } from './Settings.tsx';
import { timelineOf } from './timeline.ts';
import { UnitFacts } from './UnitFacts.tsx';
import styles from './UnitPage.module.css';
import { Visits } from './Visits.tsx';

const USUAL_RANGE: Range = 90;

const UnitFigures = lazy(async () => ({ default: (await import('../figures/UnitFigures.tsx')).UnitFigures }));

/** A unit's story: what is wrong, its days in figures, its settings, its ledger and its visits. */
export function Page() {
  const { unitId = '', alertId } = useParams({ strict: false });
  const [range, setRange] = useState<Range>(USUAL_RANGE);
  const now = useServiceNow();
  // The site may be a day ahead of UTC; a day more is asked for and does no harm.
  const from = daysLater(dateAt(now, 'UTC'), -range);
  const { data: story, error, isFetching, isPlaceholderData, refetch } = useQuery(storyQuery(unitId, from));
  const today = story ? dateAt(now, story.unit.timeZone) : '';
  const timeline = useMemo(() => story && timelineOf(story, today), [story, today]);
  if (!story || !timeline) {
    return (
      <>
        <PageHead title={unitId} />
        {error ? (
          <>
            {/* The range before may still be known. */}
            {range !== USUAL_RANGE && <RangeChoice range={range} onChange={setRange} isBusy={false} />}
            <ErrorState error={error} retry={() => void refetch()} />
          </>
        ) : (
          <Progress what="Reading the unit’s story" />
        )}
      </>
    );
  }
  const { unit } = story;
  const hasData = story.days.length > 0 || story.regenerations.length > 0;
  return (
    <OpenActsProvider>
      <PageHead title={unit.siteName ?? unit.siteId} />
      <div className={styles.sections}>
        <UnitFacts story={story} today={today} />
        <Alerts story={story} markedId={alertId} today={today} />
        <section aria-labelledby="days">
          <header className={styles.bar}>
            <h2 id="days">Day by day</h2>
            <RangeChoice range={range} onChange={setRange} isBusy={isFetching && isPlaceholderData} />
          </header>
          {hasData ? (
            <>
              {timeline.unknownBefore > 1 && (
                <p className={`soft small ${styles.note}`}>
                  Nothing is known of the first {timeline.unknownBefore} days of this range; they are not
                  drawn.
                </p>
              )}
              <Suspense fallback={<Progress what="Drawing the figures" />}>
                <UnitFigures timeline={timeline} markedId={alertId} />
              </Suspense>
            </>
          ) : (
            <Empty title="No reports in this range">
              <p>
                {story.lastReported === null
                  ? 'This unit has never reported. See whether its meter has power and a connection, and whether its credential is the right one.'
                  : 'Choose a longer range to see older days.'}
              </p>
            </Empty>
          )}
        </section>
        <Settings unit={unit} />
        {hasData && <Ledger timeline={timeline} />}
        <Visits story={story} today={today} />
      </div>
    </OpenActsProvider>
  );
}
