import { TextInput } from '@mantine/core';
import { useState } from 'react';
import { daysLater, instantAt } from '../../show/dates.ts';
import { useToday } from '../cells/useToday.ts';
import { ActForm } from './ActForm.tsx';
import { takeOutOfService } from './acts.ts';
import type { Target } from './target.ts';

interface OutOfServiceFormProps {
  readonly target: Target;
  readonly onClose: () => void;
}

export function OutOfServiceForm({ target, onClose }: OutOfServiceFormProps) {
  const today = useToday(target.timeZone);
  const [date, setDate] = useState('');
  return (
    <ActForm
      unitId={target.unitId}
      intro="What is open about it ends, and nothing is raised until it is back. It then leaves this list."
      does="Take out of service"
      onClose={onClose}
      onSubmit={() => {
        const until = date === '' ? undefined : new Date(instantAt(date, 0, target.timeZone)).toISOString();
        return takeOutOfService(target, until);
      }}
    >
      <TextInput
        type="date"
        label="Back on"
        description="Leave it empty if that is not known."
        min={daysLater(today, 1)}
        value={date}
        onChange={({ currentTarget }) => setDate(currentTarget.value)}
      />
    </ActForm>
  );
}
