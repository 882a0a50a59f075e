import { useQuery } from '@tanstack/react-query';
import { peopleQuery } from '../api/queries.ts';
import { amount } from '../show/amounts.ts';
import { Bidi } from '../show/Bidi.tsx';
import { moment } from '../show/dates.ts';
import { useLikings } from '../show/Likings.tsx';
import { CAUSE_WORDS, plain } from '../show/words.ts';
import { PlannedVisits } from './PlannedVisits.tsx';
import type { Story, VisitDone } from './types.ts';
import styles from './Visits.module.css';

/** Visits that are planned, and what those that were made found and did. */
export function Visits({ story, today }: { story: Story; today: string }) {
  const { data: people = [] } = useQuery(peopleQuery);
  const nameOf = (id: string) => people.find(({ personId }) => personId === id)?.name ?? id;
  const done = story.visits.toSorted((a, b) => Date.parse(b.at) - Date.parse(a.at));
  return (
    <section aria-labelledby="visits">
      <h2 id="visits">Visits</h2>
      <PlannedVisits story={story} today={today} nameOf={nameOf} />
      {done.length === 0 && <p className="soft">Nobody was there in the days shown.</p>}
      <ul className={styles.visits}>
        {done.map((visit) => (
          <Done key={visit.at} visit={visit} name={nameOf(visit.technician)} timeZone={story.unit.timeZone} />
        ))}
      </ul>
    </section>
  );
}

function Done({ visit, name, timeZone }: { visit: VisitDone; name: string; timeZone: string }) {
  const likings = useLikings();
  const words: Readonly<Record<string, string>> = CAUSE_WORDS;
  const taps = [
    ['raw', visit.rawHardnessGpg],
    ['cold tap', visit.coldHardnessGpg],
    ['hot tap', visit.hotHardnessGpg],
  ] as const;
  const measured = taps.flatMap(([tap, gpg]) =>
    gpg === null ? [] : [`${tap} ${amount(gpg, 'gpg', likings)}`],
  );
  return (
    <li className={styles.visit}>
      <p>
        <strong>{moment(visit.at, { locale: likings.locale, timeZone })}</strong>, <Bidi>{name}</Bidi>
      </p>
      <p>
        Found:{' '}
        <bdi>
          {visit.findings.map((code) => words[code] ?? plain(code)).join('; ') || 'nothing written down'}
        </bdi>
      </p>
      {visit.work.length > 0 && (
        <p>
          Done: <bdi>{visit.work.join('; ')}</bdi>
        </p>
      )}
      {visit.saltAddedLb !== null && <p>Salt added: {amount(visit.saltAddedLb, 'lb', likings)}</p>}
      {measured.length > 0 && <p>Hardness: {measured.join(', ')}</p>}
      {visit.notes && (
        <p className="soft">
          <Bidi>{visit.notes}</Bidi>
        </p>
      )}
    </li>
  );
}
