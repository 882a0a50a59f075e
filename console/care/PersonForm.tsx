import { Button, NativeSelect, TextInput } from '@mantine/core';
import { type FormEvent, useState } from 'react';
import type { Person } from '../api/types.ts';
import { Dialog, DialogButtons } from '../show/Dialog.tsx';
import { ROLE_WORDS } from '../show/words.ts';
import { type Given, idFor, putPerson } from './changePeople.ts';
import styles from './PersonForm.module.css';
import { useChange } from './useChange.ts';

interface PersonFormProps {
  readonly people: readonly Person[];
  /** Who is changed; nobody, where somebody is added. */
  readonly person?: Person;
  readonly onClose: () => void;
}

export function PersonForm({ people, person, onClose }: PersonFormProps) {
  const { change, isBusy, error } = useChange(onClose);
  const [given, setGiven] = useState<Given>({
    name: person?.name ?? '',
    mail: person?.mail ?? '',
    role: person?.role ?? 'technician',
    sms: person?.sms ?? '',
  });
  const set = (changed: Partial<Given>) => setGiven({ ...given, ...changed });
  const submit = (event: FormEvent) => {
    event.preventDefault();
    const personId = person?.personId ?? idFor(given.name, new Set(people.map((each) => each.personId)));
    void change(() => putPerson(personId, given, person), {
      text: person ? `Changed: ${given.name}.` : `Added: ${given.name}.`,
    });
  };
  return (
    <Dialog title={person ? `Change ${person.name}` : 'Add somebody'} onClose={onClose}>
      <form onSubmit={submit} className={styles.form}>
        <TextInput
          label="Name"
          required
          maxLength={128}
          value={given.name}
          onChange={({ currentTarget }) => set({ name: currentTarget.value })}
        />
        <TextInput
          label="Mail"
          description="The address by which they sign in, and to which briefs go."
          type="email"
          required
          maxLength={254}
          value={given.mail}
          onChange={({ currentTarget }) => set({ mail: currentTarget.value })}
        />
        <NativeSelect
          label="Role"
          data={Object.entries(ROLE_WORDS).map(([value, label]) => ({ value, label }))}
          value={given.role}
          onChange={({ currentTarget }) => set({ role: roleNamed(currentTarget.value) })}
        />
        <TextInput
          label="Telephone for short messages"
          description="With the country code, such as +15035550142. May be left empty."
          type="tel"
          pattern="\+[1-9][0-9]{6,14}"
          value={given.sms}
          onChange={({ currentTarget }) => set({ sms: currentTarget.value.trim() })}
        />
        {error && (
          <p role="alert" className={styles.error}>
            {error}
          </p>
        )}
        <DialogButtons>
          <Button variant="default" onClick={onClose}>
            Cancel
          </Button>
          <Button type="submit" loading={isBusy}>
            {person ? 'Save' : 'Add'}
          </Button>
        </DialogButtons>
      </form>
    </Dialog>
  );
}

function roleNamed(value: string): Person['role'] {
  return value === 'dispatcher' || value === 'analyst' || value === 'owner' ? value : 'technician';
}
