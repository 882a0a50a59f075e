import { Button, NativeSelect, Textarea, TextInput } from '@mantine/core';
import { type FormEvent, useEffect, useState } from 'react';
import { serviceNow } from '../../api/serviceClock.ts';
import { useMe } from '../../app/Me.ts';
import { useLikings } from '../../show/Likings.tsx';
import { CAUSE_WORDS, KIND_WORDS, plain } from '../../show/words.ts';
import type { Brief } from '../../unit/types.ts';
import { CheckBoxes } from './CheckBoxes.tsx';
import { type Draft, dropDraft, emptyDraft, type HardnessUnit, keepDraft, keptDraft } from './draft.ts';
import styles from './Findings.module.css';
import { faultOf, reportOf } from './report.ts';
import { useReporting } from './useReporting.ts';

const NOTHING_FOUND = 'nothing-found';
const LONGEST_NOTES = 2_000;
const HARDNESS_UNITS = { us: ['gpg', 'mg/L', '°dH'], metric: ['mg/L', '°dH', 'gpg'] } as const;
const TAPS = [
  ['rawHardness', 'Raw water'],
  ['coldHardness', 'Cold softened tap'],
  ['hotHardness', 'Hot tap'],
] as const;

/** What was found and done, written down on the spot. It is kept as it is typed, and sent when there is a network. */
export function Findings({ brief }: { brief: Brief }) {
  const me = useMe();
  const likings = useLikings();
  const { units } = likings;
  const of = { personId: me.person?.personId ?? '', unitId: brief.unitId };
  const [draft, setDraft] = useState<Draft>(() => keptDraft(of, units));
  const [fault, setFault] = useState<string>();
  const { report, isBusy, error } = useReporting(brief);
  const set = (change: Partial<Draft>) => setDraft({ ...draft, ...change });
  const { personId, unitId } = of;
  useEffect(() => keepDraft({ personId, unitId }, draft), [personId, unitId, draft]);

  const submit = async (event: FormEvent) => {
    event.preventDefault();
    const wrong = faultOf(draft);
    setFault(wrong);
    if (wrong) return;
    const isTaken = await report(
      reportOf(draft, {
        technician: me.person?.personId ?? 'company-key',
        time: new Date(serviceNow()).toISOString(),
        visitId: brief.visit?.visitId,
      }),
    );
    if (!isTaken) return;
    dropDraft(of);
    setDraft(emptyDraft(units));
  };

  return (
    <form id="findings" className={styles.form} onSubmit={(event) => void submit(event)}>
      <h2>What you found</h2>
      <CheckBoxes
        legend="Findings"
        choices={findingsOf(brief)}
        chosen={draft.findings}
        onChange={(findings) => set({ findings: exclusive(draft.findings, findings) })}
      />
      <Textarea
        label="Something else"
        description="In your own words, one a line."
        rows={2}
        value={draft.otherFindings}
        onChange={({ currentTarget }) => set({ otherFindings: currentTarget.value })}
      />
      <Textarea
        label="Work done"
        description="One a line."
        rows={3}
        value={draft.work}
        onChange={({ currentTarget }) => set({ work: currentTarget.value })}
      />
      <CheckBoxes
        legend="Parts used"
        choices={partsOf(brief)}
        chosen={draft.parts}
        onChange={(parts) => set({ parts })}
      />
      <Textarea
        label="Other parts"
        description="One a line."
        rows={2}
        value={draft.otherParts}
        onChange={({ currentTarget }) => set({ otherParts: currentTarget.value })}
      />
      <NumberField
        label={`Salt added, ${draft.saltUnit}`}
        value={draft.saltAdded}
        onChange={(saltAdded) => set({ saltAdded })}
      />
      <fieldset className={styles.taps}>
        <legend>Hardness as measured, {draft.hardnessUnit}</legend>
        {TAPS.map(([name, label]) => (
          <NumberField
            key={name}
            label={`${label}, ${draft.hardnessUnit}`}
            value={draft[name]}
            onChange={(value) => set({ [name]: value })}
          />
        ))}
        <NativeSelect
          label="Counted in"
          data={[...HARDNESS_UNITS[units]]}
          value={draft.hardnessUnit}
          onChange={({ currentTarget }) => set({ hardnessUnit: unitNamed(currentTarget.value) })}
        />
      </fieldset>
      <Textarea
        label="Notes"
        rows={3}
        maxLength={LONGEST_NOTES}
        value={draft.notes}
        onChange={({ currentTarget }) => set({ notes: currentTarget.value })}
      />
      {(fault ?? error) && (
        <p role="alert" className={styles.error}>
          {fault ?? error}
        </p>
      )}
      <Button type="submit" size="md" loading={isBusy}>
        Send the report
      </Button>
      <p className="soft small">
        What you fill in stays on this device until it is sent, also without a network.
      </p>
    </form>
  );
}

interface NumberFieldProps {
  readonly label: string;
  readonly value: string;
  readonly onChange: (value: string) => void;
}

function NumberField({ label, value, onChange }: NumberFieldProps) {
  return (
    <TextInput
      label={label}
      inputMode="decimal"
      pattern="\s*[0-9]{1,5}([.,][0-9]{1,3})?\s*"
      title="A number, such as 12.5"
      autoComplete="off"
      value={value}
      onChange={({ currentTarget }) => onChange(currentTarget.value)}
    />
  );
}

function findingsOf({ record }: Brief) {
  const codes = record.flatMap((each) => each.codes).filter((code) => code !== NOTHING_FOUND);
  const words: Readonly<Record<string, string>> = { ...KIND_WORDS, ...CAUSE_WORDS };
  return [
    ...codes.map((value) => ({ value, label: capital(words[value] ?? plain(value)) })),
    { value: NOTHING_FOUND, label: 'Nothing found' },
  ];
}

function partsOf({ parts }: Brief) {
  // What goes to every visit is tools.
  return parts.filter(({ because }) => because !== null).map(({ part }) => ({ value: part, label: part }));
}

/** Nothing is found, or something is. */
function exclusive(before: readonly string[], after: readonly string[]): readonly string[] {
  const isNew = after.includes(NOTHING_FOUND) && !before.includes(NOTHING_FOUND);
  if (isNew) return [NOTHING_FOUND];
  return after.length > 1 ? after.filter((code) => code !== NOTHING_FOUND) : after;
}

function unitNamed(name: string): HardnessUnit {
  return name === 'mg/L' || name === '°dH' ? name : 'gpg';
}

function capital(words: string): string {
  return words.charAt(0).toUpperCase() + words.slice(1);
}
