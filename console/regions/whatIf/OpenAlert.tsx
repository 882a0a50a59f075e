import { Link } from '@tanstack/react-router';

/** To the open alert that says the same; a word where there is none. */
export function OpenAlert({ unitId, alertId }: { unitId: string; alertId: string | null }) {
  if (alertId === null) return 'none';
  return (
    <Link to="/units/$unitId/alerts/$alertId" params={{ unitId, alertId }}>
      See the alert
    </Link>
  );
}
