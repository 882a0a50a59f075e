import { Button, NativeSelect, TextInput } from '@mantine/core';
import { type FormEvent, useState } from 'react';
import { useLikings } from '../../show/Likings.tsx';
import { plain } from '../../show/words.ts';
import type { Question } from './ask.ts';
import { doseOf, doseRange, doseUnit, shownDose } from './question.ts';
import styles from './WhatIf.module.css';

interface WhatIfFormProps {
  readonly regions: readonly string[];
  readonly isBusy: boolean;
  readonly onAsk: (question: Question) => void;
}

/** A thrifty dose to begin with, lb a cubic foot; common practice, no source. */
const FIRST_DOSE = 6;

export function WhatIfForm({ regions, isBusy, onAsk }: WhatIfFormProps) {
  const likings = useLikings();
  const [kind, setKind] = useState<'dose' | 'corrected'>('dose');
  const [region, setRegion] = useState('');
  const [dose, setDose] = useState(() => String(Math.round(shownDose(FIRST_DOSE, likings))));
  const { least, most } = doseRange(likings);
  const submit = (event: FormEvent) => {
    event.preventDefault();
    onAsk({
      ...(region && { region }),
      ...(kind === 'dose' && { dose: doseOf(Number(dose), likings) }),
    });
  };
  return (
    <form className={styles.form} onSubmit={submit}>
      <NativeSelect
        label="Imagine"
        data={[
          { value: 'dose', label: 'All at one dose' },
          { value: 'corrected', label: 'Those set wrong set right' },
        ]}
        value={kind}
        onChange={({ currentTarget }) => setKind(currentTarget.value === 'dose' ? 'dose' : 'corrected')}
      />
      {kind === 'dose' && (
        <TextInput
          className={styles.dose}
          label={`Salt dose, ${doseUnit(likings)}`}
          description={`From ${least} to ${most}`}
          type="number"
          required
          min={least}
          max={most}
          step="any"
          value={dose}
          onChange={({ currentTarget }) => setDose(currentTarget.value)}
        />
      )}
      <NativeSelect
        label="Where"
        data={[
          { value: '', label: 'All regions' },
          ...regions.map((value) => ({ value, label: plain(value) })),
        ]}
        value={region}
        onChange={({ currentTarget }) => setRegion(currentTarget.value)}
      />
      <Button type="submit" loading={isBusy}>
        Work it out
      </Button>
    </form>
  );
}
