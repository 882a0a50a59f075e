import { TextInput } from '@mantine/core';
import { useState } from 'react';
import { day, daysLater, instantAt } from '../../show/dates.ts';
import { useLikings } from '../../show/Likings.tsx';
import { useToday } from '../cells/useToday.ts';
import { ActForm } from './ActForm.tsx';
import { shelve } from './acts.ts';
import type { Target, TargetAlert } from './target.ts';

const USUAL_DAYS = 7;
/** The service shelves for a year at the longest. */
const MOST_DAYS = 365;
/** It comes back in the morning, when somebody is there to see it. */
const HOUR = 8;

interface ShelveFormProps {
  readonly target: Target & { readonly alert: TargetAlert };
  readonly onClose: () => void;
}

export function ShelveForm({ target, onClose }: ShelveFormProps) {
  const { locale } = useLikings();
  const today = useToday(target.timeZone);
  const [date, setDate] = useState(daysLater(today, USUAL_DAYS));
  return (
    <ActForm
      unitId={target.unitId}
      intro="It is still watched, and comes back at eight in the morning of that day, where the unit stands."
      does="Shelve"
      onClose={onClose}
      onSubmit={() => {
        const until = new Date(instantAt(date, HOUR, target.timeZone)).toISOString();
        return shelve(target, until, day(date, locale, today));
      }}
    >
      <TextInput
        type="date"
        label="Until"
        required
        min={daysLater(today, 1)}
        max={daysLater(today, MOST_DAYS)}
        value={date}
        onChange={({ currentTarget }) => setDate(currentTarget.value)}
      />
    </ActForm>
  );
}
