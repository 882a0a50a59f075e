import { amount, whole } from '../show/amounts.ts';
import { useLikings } from '../show/Likings.tsx';
import styles from './Deliveries.module.css';
import type { Week, WeekSum } from './types.ts';
import { bags, units, weekWords } from './words.ts';

interface WeekCardsProps {
  readonly weeks: readonly Week[];
  readonly sums: readonly WeekSum[];
  readonly today: string;
}

/** A card a week: what is planned, and between what bounds it may come out. All bars have one scale. */
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
        const { low, high } = sum.askedBags;
        return (
          <li key={week.week} className={styles.week} data-late={week.week === 0}>
            <h3>{weekWords(week, likings, today)}</h3>
            <p className={styles.big}>{bags(sum.bags, likings)}</p>
            <p>
              {amount(sum.lb, 'lb', likings)}, {units(sum.units, likings)}
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
            <p className="soft small">
              {week.week === 0
                ? 'Asked for by now'
                : low === high
                  ? `${bags(high, likings)} expected to be asked for`
                  : `${whole(low, likings)} to ${bags(high, likings)} will be asked for`}
              {sum.byRateLb > 0 && `, with ${amount(sum.byRateLb, 'lb', likings)} by rate`}
            </p>
          </li>
        );
      })}
    </ol>
  );
}
