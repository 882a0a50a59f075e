import { Button } from '@mantine/core';
import { DialogButtons } from '../../show/Dialog.tsx';
import styles from './acts.module.css';
import type { Choice, Form } from './choices.ts';
import type { Target } from './target.ts';
import { useAct } from './useAct.ts';

interface ChoicesProps {
  readonly target: Target;
  readonly choices: readonly Choice[];
  readonly onForm: (form: Form) => void;
  readonly onClose: () => void;
}

export function Choices({ target, choices, onForm, onClose }: ChoicesProps) {
  const { act, isBusy, error } = useAct(target.unitId);
  const choose = async ({ does }: Choice) => {
    if (typeof does === 'string') onForm(does);
    else if (await act(does)) onClose();
  };
  return (
    <>
      {target.alert && <p className="soft">{target.alert.sentence}</p>}
      <ul className={styles.choices}>
        {choices.map((choice) => (
          <li key={choice.title}>
            <button
              type="button"
              className={styles.choice}
              disabled={isBusy}
              onClick={() => void choose(choice)}
            >
              <span className={styles.name}>{choice.title}</span>
              <span className="soft small">{choice.what}</span>
            </button>
          </li>
        ))}
      </ul>
      {error && (
        <p role="alert" className={styles.error}>
          {error}
        </p>
      )}
      <DialogButtons>
        <Button variant="default" onClick={onClose}>
          Close
        </Button>
      </DialogButtons>
    </>
  );
}
