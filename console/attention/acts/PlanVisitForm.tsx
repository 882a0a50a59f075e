import { NativeSelect, Textarea, TextInput } from '@mantine/core';
import { useQuery } from '@tanstack/react-query';
import { useState } from 'react';
import { peopleQuery } from '../../api/queries.ts';
import { day, daysLater } from '../../show/dates.ts';
import { useLikings } from '../../show/Likings.tsx';
import { useToday } from '../cells/useToday.ts';
import { ActForm } from './ActForm.tsx';
import styles from './acts.module.css';
import { planVisit } from './acts.ts';
import type { Target } from './target.ts';

const LONGEST_REASON = 500;
/** Further ahead nobody plans, and no list shows it. */
const AHEAD_DAYS = 59;

interface PlanVisitFormProps {
  readonly target: Target;
  readonly onClose: () => void;
}

/** A technician, a day and why. The technician gets the brief when it is planned, and on the morning of the day. */
export function PlanVisitForm({ target, onClose }: PlanVisitFormProps) {
  const { locale } = useLikings();
  const today = useToday(target.timeZone);
  const { data: people = [] } = useQuery(peopleQuery);
  const technicians = people.filter(({ role }) => role === 'technician');
  const [chosen, setChosen] = useState<string>();
  const [date, setDate] = useState(daysLater(today, 1));
  const [reason, setReason] = useState(target.alert?.sentence.slice(0, LONGEST_REASON) ?? '');
  const technician = technicians.find(({ personId }) => personId === chosen) ?? technicians[0];
  return (
    <ActForm
      unitId={target.unitId}
      intro={
        technicians.length > 0
          ? 'The technician gets the brief by mail now, and again at six in the morning of the day.'
          : 'Nobody of the company is a technician yet. The owner adds people on the page People.'
      }
      does="Plan the visit"
      onClose={onClose}
      onSubmit={() => {
        if (!technician) throw new Error('Choose a technician.');
        if (!reason.trim()) throw new Error('Say why somebody is to go there.');
        const plan = {
          technician: technician.personId,
          technicianName: technician.name,
          date,
          day: day(date, locale),
          reason,
        };
        return planVisit(target, plan);
      }}
    >
      <NativeSelect
        label="Technician"
        required
        data={technicians.map(({ personId, name }) => ({ value: personId, label: name }))}
        value={technician?.personId ?? ''}
        onChange={({ currentTarget }) => setChosen(currentTarget.value)}
      />
      <TextInput
        type="date"
        label="Day"
        required
        min={today}
        max={daysLater(today, AHEAD_DAYS)}
        value={date}
        onChange={({ currentTarget }) => setDate(currentTarget.value)}
      />
      <Textarea
        className={styles.wide}
        label="Why"
        required
        rows={4}
        maxLength={LONGEST_REASON}
        value={reason}
        onChange={({ currentTarget }) => setReason(currentTarget.value)}
      />
    </ActForm>
  );
}
