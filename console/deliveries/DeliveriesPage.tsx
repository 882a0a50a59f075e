import { useQuery } from '@tanstack/react-query';
import { useServiceNow } from '../api/useServiceNow.ts';
import { Empty } from '../app/Empty.tsx';
import { ErrorState } from '../app/ErrorPage.tsx';
import { PageHead } from '../app/PageHead.tsx';
import { Progress } from '../app/Progress.tsx';
import '../brief/print.css';
import { amount, whole } from '../show/amounts.ts';
import { dateAt } from '../show/dates.ts';
import { useLikings } from '../show/Likings.tsx';
import { Choices } from './Choices.tsx';
import { type Choice, useChoice } from './choice.ts';
import { DatedUnits } from './DatedUnits.tsx';
import styles from './Deliveries.module.css';
import { Downloads } from './Downloads.tsx';
import { deliveriesQuery } from './query.ts';
import { Rounds } from './Rounds.tsx';
import type { Deliveries } from './types.ts';
import { WeekCards } from './WeekCards.tsx';
import { WithoutDate } from './WithoutDate.tsx';
import { byRateWords, scopeWords } from './words.ts';

const TITLE = 'Deliveries';

/** For whoever plans a truck: which units need salt in which week, how many bags, on which round, and how sure. */
export function Page() {
  const [choice, change] = useChoice();
  const { data: deliveries, error, refetch, isPlaceholderData } = useQuery(deliveriesQuery(choice));
  const isAny = deliveries !== undefined && deliveries.regions.length > 0;
  return (
    <article>
      <PageHead title={TITLE}>{isAny && <Downloads choice={choice} />}</PageHead>
      {!deliveries && error && <ErrorState error={error} retry={() => void refetch()} />}
      {!deliveries && !error && (
        <div aria-busy="true">
          <Progress what="Asking all tanks" />
        </div>
      )}
      {deliveries && !isAny && (
        <Empty title="There is no unit yet">
          <p>Add units to the registry, and let their meters report. Their salt shows here a day later.</p>
        </Empty>
      )}
      {isAny && (
        <div aria-busy={isPlaceholderData}>
          <p className={`soft ${styles.intro}`}>
            Each unit is in the week of the last day on which salt still comes in time with 90 %. Within a
            week they stand by that day: no route is worked out.
          </p>
          <Choices regions={deliveries.regions} choice={choice} onChange={change} />
          <Plan deliveries={deliveries} choice={choice} />
        </div>
      )}
    </article>
  );
}

function Plan({ deliveries, choice }: { deliveries: Deliveries; choice: Choice }) {
  const likings = useLikings();
  const today = dateAt(useServiceNow(), likings.timeZone);
  const { weeks, total, dated, byRate, bagLb } = deliveries;
  if (dated.length === 0 && byRate.length === 0) {
    return (
      <>
        <Empty title="No unit needs salt in these weeks">
          <p>
            A unit comes up here when its salt may run out within four weeks. That is known where a level
            sensor reports, or where visits say how much salt was brought.
          </p>
        </Empty>
        <Others deliveries={deliveries} />
      </>
    );
  }
  return (
    <>
      <section className={styles.part} aria-labelledby="weeks">
        <h2 id="weeks">Bags by week{scopeWords(choice)}</h2>
        {byRate.length > 0 && (
          <p className={styles.intro}>
            {byRateWords(byRate, bagLb, likings)}. Nothing is known of their tanks: they are in the bags of
            each week, and <a href="#without-date">listed below</a>.
          </p>
        )}
        <WeekCards weeks={weeks} sums={total} today={today} />
      </section>
      <section className={styles.part} aria-labelledby="rounds">
        <h2 id="rounds">By round</h2>
        <Rounds deliveries={deliveries} today={today} />
        <WithoutRounds deliveries={deliveries} />
      </section>
      <section className={styles.part} aria-labelledby="units">
        <h2 id="units">Units</h2>
        {dated.length > 0 ? (
          <DatedUnits deliveries={deliveries} today={today} />
        ) : (
          <p>
            No unit has a date in these weeks. Where a level sensor reports, or where visits say how much salt
            was brought to a tank of known size, units stand here by name.
          </p>
        )}
      </section>
      <WithoutDate rows={byRate} today={today} />
      <Others deliveries={deliveries} />
    </>
  );
}

/** What to do where the registry names no round. */
function WithoutRounds({ deliveries: { regions } }: { deliveries: Deliveries }) {
  if (regions.some(({ rounds }) => rounds.some((round) => round !== null))) return null;
  return (
    <p className="soft">
      No unit is on a round. Give each its <code>round</code> in the registry (a column of that name in a
      CSV), and its units stand together here.
    </p>
  );
}

/** Units that are on no list, so that nobody wonders where they are. */
function Others({ deliveries: { others, units, bagLb } }: { deliveries: Deliveries }) {
  const likings = useLikings();
  const named = [
    [others.later + others['beyond-a-year'], 'have salt for longer'],
    [others['set-up'], 'stand in set-up mode'],
    [others['out-of-service'], 'are out of service'],
    [others['nothing-reported'], 'have reported nothing yet'],
    [others['never-regenerates'], 'never regenerate by themselves'],
  ] as const;
  const told = named
    .filter(([count]) => count > 0)
    .map(([count, words]) => `${whole(count, likings)} ${words}`);
  return (
    <p className={`soft small ${styles.part}`}>
      Of {whole(units, likings)} units{told.length > 0 && `, ${told.join(', ')}`}. A bag is{' '}
      {amount(bagLb, 'lb', likings)}, of whichever salt a unit uses: that is not on record.
    </p>
  );
}
