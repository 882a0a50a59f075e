import { useId } from 'react';
import styles from './Findings.module.css';

interface CheckBoxesProps {
  readonly legend: string;
  readonly choices: readonly { readonly value: string; readonly label: string }[];
  readonly chosen: readonly string[];
  readonly onChange: (chosen: string[]) => void;
}

/** Some of many; big enough for a thumb. */
export function CheckBoxes({ legend, choices, chosen, onChange }: CheckBoxesProps) {
  const id = useId();
  return (
    <fieldset className={styles.boxes}>
      <legend>{legend}</legend>
      {choices.map(({ value, label }, index) => (
        <label key={value} htmlFor={`${id}-${index}`} className={styles.box}>
          <input
            id={`${id}-${index}`}
            type="checkbox"
            checked={chosen.includes(value)}
            onChange={({ currentTarget }) =>
              onChange(currentTarget.checked ? [...chosen, value] : chosen.filter((each) => each !== value))
            }
          />
          {label}
        </label>
      ))}
    </fieldset>
  );
}
