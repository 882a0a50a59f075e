import { count, whole } from '../../show/amounts.ts';
import { useLikings } from '../../show/Likings.tsx';
import type { Row } from '../rows.ts';
import { Reading } from './Reading.tsx';

export function HardWaterCell({ row: { hardDaysSoFar, hardDaysExpected } }: { row: Row }) {
  const likings = useLikings();
  const soFar = hardDaysSoFar > 0 ? `${whole(hardDaysSoFar, likings)} so far` : 'None so far';
  return (
    <Reading
      label="Hard-water days"
      value={soFar}
      note={`${count(hardDaysExpected, likings)} of the next 14`}
    />
  );
}
