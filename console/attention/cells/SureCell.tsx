import { percent } from '../../show/amounts.ts';
import { useLikings } from '../../show/Likings.tsx';
import { sureness } from '../../show/words.ts';
import type { Row } from '../rows.ts';
import { Reading } from './Reading.tsx';

export function SureCell({ row: { probability } }: { row: Row }) {
  return <Reading label="How sure" value={percent(probability, useLikings())} note={sureness(probability)} />;
}
