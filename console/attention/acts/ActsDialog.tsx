import { useState } from 'react';
import { useMe } from '../../app/Me.ts';
import { Dialog } from '../../show/Dialog.tsx';
import { can } from '../../signIn/can.ts';
import { AwayForm } from './AwayForm.tsx';
import { Choices } from './Choices.tsx';
import { choicesFor, FORM_TITLES, type Form } from './choices.ts';
import { OutOfServiceForm } from './OutOfServiceForm.tsx';
import { PlanVisitForm } from './PlanVisitForm.tsx';
import { ShelveForm } from './ShelveForm.tsx';
import type { Target } from './target.ts';

interface ActsDialogProps {
  readonly target: Target;
  readonly onClose: () => void;
}

/** What can be done about a unit: a choice of acts, then the form of one where it needs one. */
export function ActsDialog({ target, onClose }: ActsDialogProps) {
  const me = useMe();
  const [form, setForm] = useState<Form>();
  const { alert, site } = target;
  const choices = choicesFor(target, (act) => can(me, act));
  return (
    <Dialog
      title={
        <>
          {form && `${FORM_TITLES[form]}: `}
          <bdi>{site}</bdi>
        </>
      }
      onClose={onClose}
    >
      {form === undefined && <Choices target={target} choices={choices} onForm={setForm} onClose={onClose} />}
      {form === 'visit' && <PlanVisitForm target={target} onClose={onClose} />}
      {form === 'shelve' && alert && <ShelveForm target={{ ...target, alert }} onClose={onClose} />}
      {form === 'away' && <AwayForm target={target} onClose={onClose} says="away" />}
      {form === 'at-home' && <AwayForm target={target} onClose={onClose} says="at-home" />}
      {form === 'out-of-service' && <OutOfServiceForm target={target} onClose={onClose} />}
    </Dialog>
  );
}
