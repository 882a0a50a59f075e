import styles from './RangeChoice.module.css';

const RANGES = [30, 90, 365] as const;

/** Days that are shown. */
export type Range = (typeof RANGES)[number];

interface RangeChoiceProps {
  readonly range: Range;
  readonly onChange: (range: Range) => void;
  readonly isBusy: boolean;
}

export function RangeChoice({ range, onChange, isBusy }: RangeChoiceProps) {
  return (
    <fieldset className={styles.choice} aria-busy={isBusy}>
      <legend className="hidden">Days shown</legend>
      {RANGES.map((days) => (
        <label key={days} className={styles.option}>
          <input type="radio" name="range" checked={days === range} onChange={() => onChange(days)} />
          {days} days
        </label>
      ))}
    </fieldset>
  );
}
