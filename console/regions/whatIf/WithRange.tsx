import type { Estimate } from '../../../lib/estimate/estimate.ts';
import type { QuantityName } from '../../show/amounts.ts';
import { useLikings } from '../../show/Likings.tsx';
import { hasRange, numberWords, rangeWords } from './inWords.ts';
import styles from './WhatIf.module.css';

interface WithRangeProps {
  readonly of: Estimate;
  readonly quantity?: QuantityName | undefined;
  /** Instead of the number. */
  readonly words?: string;
}

/** A number and beneath it its interval, where it says more. */
export function WithRange({ of, quantity, words }: WithRangeProps) {
  const likings = useLikings();
  return (
    <span className={styles.estimate}>
      {words ?? numberWords(of.value, quantity, likings)}
      {hasRange(of, quantity, likings) && (
        <span className={styles.range}>{rangeWords(of, quantity, likings)}</span>
      )}
    </span>
  );
}
