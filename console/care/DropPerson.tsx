import { Button } from '@mantine/core';
import type { Person } from '../api/types.ts';
import { Dialog, DialogButtons } from '../show/Dialog.tsx';
import { dropPerson, putPerson } from './changePeople.ts';
import { useChange } from './useChange.ts';

interface DropPersonProps {
  readonly person: Person;
  readonly onClose: () => void;
}

export function DropPerson({ person, onClose }: DropPersonProps) {
  const { change, isBusy, error } = useChange(onClose);
  const { personId, name, mail, role, sms = '' } = person;
  return (
    <Dialog title={`Take ${name} off`} onClose={onClose}>
      <p>They can sign in no more, from now on. What they did stays written down under their name.</p>
      {error && <p role="alert">{error}</p>}
      <DialogButtons>
        <Button variant="default" onClick={onClose}>
          Cancel
        </Button>
        <Button
          color="red"
          loading={isBusy}
          onClick={() =>
            void change(() => dropPerson(personId), {
              text: `Taken off: ${name}.`,
              undo: () => putPerson(personId, { name, mail, role, sms }, person),
            })
          }
        >
          Take off
        </Button>
      </DialogButtons>
    </Dialog>
  );
}
