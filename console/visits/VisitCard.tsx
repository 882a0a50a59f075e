import { useQuery } from '@tanstack/react-query';
import { Link } from '@tanstack/react-router';
import type { PlannedVisit } from '../api/types.ts';
import { Bidi } from '../show/Bidi.tsx';
import { UnitLink } from '../show/UnitLink.tsx';
import { recordQuery } from '../unit/queries.ts';
import styles from './VisitsPage.module.css';

interface VisitCardProps {
  readonly visit: PlannedVisit;
  readonly name: string | undefined;
}

/** Where to, why, and the brief of it. */
export function VisitCard({ visit: { unitId, visitId, reason }, name }: VisitCardProps) {
  const { data: record } = useQuery(recordQuery(unitId));
  const site = record?.site?.name ?? record?.siteId ?? unitId;
  return (
    <li className={styles.card}>
      <p className={styles.site}>
        <Link to="/units/$unitId/brief" params={{ unitId }} search={{ visitId }}>
          <Bidi>{site}</Bidi>
        </Link>
      </p>
      {record?.site?.address && record.site.address !== site && (
        <p>
          <Bidi>{record.site.address}</Bidi>
        </p>
      )}
      <p className={styles.reason}>
        <Bidi>{reason}</Bidi>
      </p>
      <p className="soft small">
        {name !== undefined && (
          <>
            <Bidi>{name}</Bidi> ·{' '}
          </>
        )}
        <UnitLink unitId={unitId}>The unit’s story</UnitLink>
      </p>
    </li>
  );
}
