import { TextInput } from '@mantine/core';
import { useState } from 'react';
import { daysLater } from '../../show/dates.ts';
import { useToday } from '../cells/useToday.ts';
import { ActForm } from './ActForm.tsx';
import { sayAtHome, sayAway } from './acts.ts';
import type { Target } from './target.ts';

const USUAL_DAYS = 7;
/** So far back a word still tells something, and for no longer is a house given up: mistyped years are neither. */
const BACK_DAYS = 60;
const LONGEST_DAYS = 180;

interface AwayFormProps {
  readonly target: Target;
  readonly says: 'away' | 'at-home';
  readonly onClose: () => void;
}

/** What the household says about itself. It cannot be taken back; the other word corrects it. */
export function AwayForm({ target, says, onClose }: AwayFormProps) {
  const today = useToday(target.timeZone);
  const isAway = says === 'away';
  const [from, setFrom] = useState(isAway ? today : daysLater(today, -1));
  const [to, setTo] = useState(isAway ? daysLater(today, USUAL_DAYS) : daysLater(today, -1));
  return (
    <ActForm
      unitId={target.unitId}
      intro={
        isAway
          ? 'The first and the last day on which nobody is there. It cannot be taken back: if it was wrong, say that they were at home.'
          : 'The first and the last day on which they were there and drew water. It cannot be taken back.'
      }
      does={isAway ? 'They are away' : 'They were at home'}
      onClose={onClose}
      onSubmit={() => (isAway ? sayAway : sayAtHome)(target, from, to)}
    >
      <TextInput
        type="date"
        label="First day"
        required
        min={daysLater(today, -BACK_DAYS)}
        max={isAway ? daysLater(today, LONGEST_DAYS) : today}
        value={from}
        onChange={({ currentTarget }) => setFrom(currentTarget.value)}
      />
      <TextInput
        type="date"
        label="Last day"
        required
        min={from}
        max={isAway ? daysLater(from, LONGEST_DAYS) : today}
        value={to}
        onChange={({ currentTarget }) => setTo(currentTarget.value)}
      />
    </ActForm>
  );
}
