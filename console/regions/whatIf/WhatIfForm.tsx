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

const SETTINGS = [
  { value: 'dose', label: 'All at one dose' },
  { value: 'corrected', label: 'Those set wrong set right' },
  { value: 'same', label: 'As they are' },
] as const;
const RESERVES = [
  { value: 'mean', label: 'Mean of seven days' },
  { value: 'forecast', label: 'By forecast' },
] as const;
const SALTS = [
  { value: 'NaCl', label: 'Sodium chloride' },
  { value: 'KCl', label: 'Potassium chloride' },
] as const;

export function WhatIfForm({ regions, isBusy, onAsk }: WhatIfFormProps) {
  const likings = useLikings();
  const [settings, setSettings] = useState<string>('dose');
  const [reserve, setReserve] = useState<string>('mean');
  const [salt, setSalt] = useState<string>('NaCl');
  const [region, setRegion] = useState('');
  /** As it was typed; until then the first, which in grams a litre has more digits than are shown. */
  const [typed, setTyped] = useState<string>();
  const { least, most } = doseRange(likings);
  const isNothing = settings === 'same' && reserve === 'mean' && salt === 'NaCl';
  const submit = (event: FormEvent) => {
    event.preventDefault();
    onAsk({
      ...(region && { region }),
      ...(settings === 'dose' && { dose: typed === undefined ? FIRST_DOSE : doseOf(Number(typed), likings) }),
      ...(settings === 'corrected' && { correct: true }),
      ...(reserve === 'forecast' && { reserve }),
      ...(salt === 'KCl' && { salt }),
    });
  };
  return (
    <form className={styles.form} onSubmit={submit}>
      <NativeSelect
        label="Settings"
        data={SETTINGS}
        value={settings}
        onChange={({ currentTarget }) => setSettings(currentTarget.value)}
      />
      {settings === 'dose' && (
        <TextInput
          className={styles.dose}
          label={`Salt dose, ${doseUnit(likings)}`}
          description={`From ${least} to ${most}`}
          type="number"
          required
          min={least}
          max={most}
          step="any"
          value={typed ?? firstDose(shownDose(FIRST_DOSE, likings))}
          onChange={({ currentTarget }) => setTyped(currentTarget.value)}
        />
      )}
      <NativeSelect
        label="Reserve"
        data={RESERVES}
        value={reserve}
        onChange={({ currentTarget }) => setReserve(currentTarget.value)}
      />
      <NativeSelect
        label="Salt"
        data={SALTS}
        value={salt}
        onChange={({ currentTarget }) => setSalt(currentTarget.value)}
      />
      <NativeSelect
        label="Where"
        data={[
          { value: '', label: 'All regions' },
          ...regions.map((value) => ({ value, label: plain(value) })),
        ]}
        value={region}
        onChange={({ currentTarget }) => setRegion(currentTarget.value)}
      />
      <Button type="submit" loading={isBusy} disabled={isNothing}>
        Work it out
      </Button>
      {isNothing && <p className="soft small">Choose what is to be otherwise: settings, reserve or salt.</p>}
    </form>
  );
}

/** For a field of numbers: with a point, whatever the locale, and no zeros at the end. */
function firstDose(shown: number): string {
  return String(Number(shown.toFixed(2)));
}
