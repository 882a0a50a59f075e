import { Button } from '@mantine/core';
import { Link } from '@tanstack/react-router';
import { useMe } from '../app/Me.ts';
import { dropVisit } from '../attention/acts/acts.ts';
import { useAct } from '../attention/acts/useAct.ts';
import { Bidi } from '../show/Bidi.tsx';
import { day } from '../show/dates.ts';
import { useLikings } from '../show/Likings.tsx';
import { can } from '../signIn/can.ts';
import { targetOf } from './targetOf.ts';
import type { Story, VisitPlanned } from './types.ts';
import styles from './Visits.module.css';

interface PlannedVisitsProps {
  readonly story: Story;
  readonly today: string;
  readonly nameOf: (personId: string) => string;
}

/** Who goes there and when; each may be taken off, and put back. */
export function PlannedVisits({ story, today, nameOf }: PlannedVisitsProps) {
  const { locale } = useLikings();
  const me = useMe();
  const { act, isBusy, error } = useAct(story.unit.unitId);
  const planned = story.planned.toSorted((a, b) => (a.date < b.date ? -1 : 1));
  if (planned.length === 0) return <p className="soft">None is planned.</p>;
  const target = targetOf(story, null, null);
  const drop = (visit: VisitPlanned) => {
    const { visitId, technician, date, reason } = visit;
    const named = { technicianName: nameOf(technician), day: day(date, locale, today) };
    return act(() => dropVisit(target, { visitId, technician, date, reason, ...named }));
  };
  return (
    <>
      <ul className={styles.visits}>
        {planned.map((visit) => (
          <li key={visit.visitId} className={styles.visit} data-planned="true">
            <p>
              <strong>{day(visit.date, locale, today)}</strong>, <Bidi>{nameOf(visit.technician)}</Bidi>
              {visit.date < today && <span className={styles.past}> no report of it yet</span>}
            </p>
            <p className={styles.reason}>
              <Bidi>{visit.reason}</Bidi>
            </p>
            <p className={styles.acts}>
              <Link
                to="/units/$unitId/brief"
                params={{ unitId: story.unit.unitId }}
                search={{ visitId: visit.visitId }}
              >
                Brief
              </Link>
              {can(me, 'desk') && (
                <Button variant="default" size="xs" loading={isBusy} onClick={() => void drop(visit)}>
                  Take off
                </Button>
              )}
            </p>
          </li>
        ))}
      </ul>
      {error && <p role="alert">{error}</p>}
    </>
  );
}
