import { Bidi } from '../../show/Bidi.tsx';
import { Severity } from '../../show/Severity.tsx';
import { UnitLink } from '../../show/UnitLink.tsx';
import { plain } from '../../show/words.ts';
import type { Row } from '../rows.ts';
import styles from './cells.module.css';

export function SiteCell({ row: { severity, siteName, siteId, unitId, region } }: { row: Row }) {
  return (
    <>
      <Severity level={severity} />
      <UnitLink unitId={unitId} className={styles.site}>
        <Bidi>{siteName ?? siteId}</Bidi>
      </UnitLink>
      <span className="soft small">
        <Bidi>{unitId}</Bidi> · {plain(region)}
      </span>
    </>
  );
}
