import { NativeSelect } from '@mantine/core';
import { useQuery } from '@tanstack/react-query';
import { useState } from 'react';
import { peopleQuery, visitsQuery } from '../api/queries.ts';
import { useServiceNow } from '../api/useServiceNow.ts';
import { Empty } from '../app/Empty.tsx';
import { ErrorState } from '../app/ErrorPage.tsx';
import { useMe } from '../app/Me.ts';
import { PageHead } from '../app/PageHead.tsx';
import { Progress } from '../app/Progress.tsx';
import { Waiting } from '../brief/outbox/Waiting.tsx';
import { dateAt, daysLater } from '../show/dates.ts';
import { useLikings } from '../show/Likings.tsx';
import { roleOf } from '../signIn/can.ts';
import { byDay } from './byDay.ts';
import { DayOfVisits } from './DayOfVisits.tsx';
import { useBriefsKept } from './useBriefsKept.ts';
import styles from './VisitsPage.module.css';

/** Visits of this many days before today are shown while nobody has reported them, and so many ahead. */
const BEFORE = 14;
const AHEAD = 60;

/** A technician's day and the days to come; for others, those of all technicians. */
export function Page() {
  const me = useMe();
  const { timeZone } = useLikings();
  const today = dateAt(useServiceNow(), timeZone);
  const isTechnician = roleOf(me) === 'technician';
  const [chosen, setChosen] = useState('');
  const technician = isTechnician ? (me.person?.personId ?? '') : chosen;
  const query = useQuery(visitsQuery(daysLater(today, -BEFORE), daysLater(today, AHEAD)));
  const { data: people = [] } = useQuery(peopleQuery);
  const visits = (query.data ?? []).filter((visit) => technician === '' || visit.technician === technician);
  const isKept = useBriefsKept(isTechnician ? visits.filter(({ date }) => date <= daysLater(today, 1)) : []);
  const nameOf = (id: string) => people.find(({ personId }) => personId === id)?.name ?? id;
  return (
    <>
      <PageHead title={isTechnician ? 'My visits' : 'Visits'} />
      <Waiting />
      {!isTechnician && (
        <NativeSelect
          className={styles.choice}
          label="Technician"
          data={[
            { value: '', label: 'All technicians' },
            ...people
              .filter(({ role }) => role === 'technician')
              .map(({ personId, name }) => ({ value: personId, label: name })),
          ]}
          value={chosen}
          onChange={({ currentTarget }) => setChosen(currentTarget.value)}
        />
      )}
      {isKept && (
        <p className="soft small">The briefs of these visits up to tomorrow are kept on this device.</p>
      )}
      {query.isPending &&
        (query.error || query.isPaused ? (
          <p>There is no network, and the visits are not known on this device.</p>
        ) : (
          <Progress what="Reading the visits" />
        ))}
      {query.error && !query.data && <ErrorState error={query.error} retry={() => void query.refetch()} />}
      {query.data && visits.length === 0 && (
        <Empty title="No visits">
          <p>
            {isTechnician
              ? `Nothing is planned for you in the next ${AHEAD} days. A dispatcher plans visits from the list of units that need attention; you get a mail when one is yours.`
              : `Nothing is planned in the next ${AHEAD} days. Plan a visit from the list of units that need attention, or from a unit’s page.`}
          </p>
        </Empty>
      )}
      {byDay(visits, today).map((day) => (
        <DayOfVisits key={day.date} day={day} today={today} nameOf={isTechnician ? undefined : nameOf} />
      ))}
    </>
  );
}
