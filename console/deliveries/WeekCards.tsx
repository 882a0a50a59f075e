import { amount, whole } from '../show/amounts.ts';
import { type Likings, useLikings } from '../show/Likings.tsx';
import styles from './Deliveries.module.css';
import type { Week, WeekSum } from './types.ts';
import { askedWords, bags, units, weekWords } from './words.ts';

interface WeekCardsProps {
  readonly weeks: readonly Week[];
  readonly sums: readonly WeekSum[];
  readonly today: string;
}

/** A card a week: what will be asked for and between what bounds, and what of it has a date. All bars have one scale. */
export function WeekCards({ weeks, sums, today }: WeekCardsProps) {
  const likings = useLikings();
  const most = Math.max(1, ...sums.map((sum) => Math.max(sum.bags, sum.askedBags.high)));
  const shown = weeks.flatMap((week, index) => {
    const sum = sums[index];
    return sum && (week.week > 0 || sum.units > 0) ? [{ week, sum }] : [];
  });
  return (
    <ol className={styles.weeks}>
      {shown.map(({ week, sum }) => {
        const { value, low, high } = sum.askedBags;
        return (
          <li key={week.week} className={styles.week} data-late={week.week === 0}>
            <h3>{weekWords(week, likings, today)}</h3>
            <p className={styles.big}>{askedWords(value, likings)}</p>
            <p>
              {week.week === 0
                ? 'asked for by now'
                : low === high
                  ? 'expected to be asked for'
                  : `will be asked for; 80\u00a0%: ${whole(low, likings)} to ${whole(high, likings)}`}
            </p>
            <div className={styles.track} aria-hidden="true">
              <div
                className={styles.range}
                style={{
                  insetInlineStart: `${(100 * low) / most}%`,
                  inlineSize: `${(100 * (high - low)) / most}%`,
                }}
              />
              <div className={styles.planned} style={{ insetInlineStart: `${(100 * sum.bags) / most}%` }} />
            </div>
            <p className="soft small">{datedWords(sum, likings)}</p>
          </li>
        );
      })}
    </ol>
  );
}

/** What of a week's bags has a date: a house may come earlier or later than dated now, so it may be more than is expected. */
function datedWords({ bags: dated, lb, units: count, askedBags }: WeekSum, likings: Likings): string {
  if (count === 0) return 'No unit has its date in it';
  const of = dated <= Math.round(askedBags.value) ? `${whole(dated, likings)} of them` : bags(dated, likings);
  return `${of} (${amount(lb, 'lb', likings)}) for ${units(count, likings)} with a date in it`;
}
