import { Button } from '@mantine/core';
import { useMe } from '../../app/Me.ts';
import { can } from '../../signIn/can.ts';
import { useOpenActs } from '../acts/OpenActs.tsx';
import { targetOf } from '../acts/target.ts';
import { useNextVisit } from '../Planned.ts';
import type { Row } from '../rows.ts';

export function ActCell({ row }: { row: Row }) {
  const open = useOpenActs();
  const me = useMe();
  const visit = useNextVisit(row.unitId);
  if (!can(me, 'field')) return null;
  return (
    <Button variant="default" size="xs" aria-haspopup="dialog" onClick={() => open(targetOf(row, visit))}>
      Act
      <span className="hidden"> on {row.siteName ?? row.siteId}</span>
    </Button>
  );
}
