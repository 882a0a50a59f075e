import { NativeSelect } from '@mantine/core';
import { useMemo, useState } from 'react';
import { useLikings } from '../show/Likings.tsx';
import { plain } from '../show/words.ts';
import { hasTwoYears, seriesOfRegions, seriesOfYears } from './compareSeries.ts';
import { MOST_LINES } from './figures/lineLooks.ts';
import { Lines } from './Lines.tsx';
import { type Measure, type Per, shownOf, unitWords } from './measures.ts';
import type { RegionMonths } from './months.ts';
import { monthWords } from './monthWords.ts';
import styles from './RegionsPage.module.css';
import type { RegionMonth } from './toldMonths.ts';

interface CompareProps {
  readonly measure: Measure;
  readonly per: Per;
  readonly onPer: (per: Per) => void;
  readonly regions: readonly RegionMonths[];
  /** Whose years are compared, and its name. */
  readonly months: readonly RegionMonth[];
  readonly scope: string;
  readonly now: number;
}

const PER = [
  { value: 'all', label: 'All units of a region' },
  { value: 'unit-day', label: 'One unit a day' },
];

/** Regions beside each other, and years. */
export function Compare({ measure, per, onPer, regions, months, scope, now }: CompareProps) {
  const likings = useLikings();
  const unit = unitWords(measure, per, likings);
  const largest = useMemo(() => largestOf(regions, measure), [regions, measure]);
  const [picked, setPicked] = useState<ReadonlySet<string>>();
  const shown = picked ?? largest;
  const how = useMemo(() => ({ measure, per, likings, now }), [measure, per, likings, now]);
  const ofRegions = useMemo(
    () =>
      seriesOfRegions(
        regions.filter(({ region }) => shown.has(region)),
        plain,
        how,
      ),
    [regions, shown, how],
  );
  const ofYears = useMemo(() => seriesOfYears(months, how).slice(-MOST_LINES), [months, how]);
  const pick = (region: string, isOn: boolean) => {
    const next = new Set(shown);
    if (isOn) next.add(region);
    else next.delete(region);
    setPicked(next);
  };
  return (
    <>
      <div className={styles.choices}>
        {!measure.isRatio && (
          <NativeSelect
            label="Compare"
            data={PER}
            value={per}
            onChange={({ currentTarget }) => onPer(currentTarget.value === 'unit-day' ? 'unit-day' : 'all')}
          />
        )}
        <fieldset className={styles.picks}>
          <legend>Regions, up to {MOST_LINES}</legend>
          {regions.map(({ region }) => (
            <label key={region}>
              <input
                type="checkbox"
                checked={shown.has(region)}
                disabled={!shown.has(region) && shown.size >= MOST_LINES}
                onChange={({ currentTarget }) => pick(region, currentTarget.checked)}
              />
              {plain(region)}
            </label>
          ))}
        </fieldset>
      </div>
      {ofRegions.length > 0 ? (
        <Lines
          title={`${measure.label} by region`}
          summary={`${measure.about} One line a region.`}
          unit={unit}
          series={ofRegions}
          nameOf={(at) => monthWords(new Date(at).toISOString().slice(0, 7), likings.locale)}
          withYear
        />
      ) : (
        <p className="soft">Tick a region to see its line.</p>
      )}
      {hasTwoYears(months) ? (
        <Lines
          title={`${measure.label} by year, ${scope}`}
          summary={`${measure.about} One line a year, from January to December.`}
          unit={unit}
          series={ofYears}
          nameOf={(at) =>
            new Intl.DateTimeFormat(likings.locale, { month: 'long', timeZone: 'UTC' }).format(at)
          }
          withYear={false}
        />
      ) : (
        <p className={`soft ${styles.note}`}>
          Years can be compared once the same month has been watched in two of them. Watched so far:{' '}
          {months.length === 1 ? 'one month' : `${months.length} months`} of {scope}.
        </p>
      )}
    </>
  );
}

/** The regions that do most, as many as can be told apart. */
function largestOf(regions: readonly RegionMonths[], measure: Measure): ReadonlySet<string> {
  const likings = { units: 'us', locale: 'en', timeZone: 'UTC' } as const;
  const size = ({ months }: RegionMonths) =>
    Math.max(0, ...months.map((account) => shownOf(account, measure, 'all', likings)?.value ?? 0));
  const sorted = [...regions].sort((a, b) => size(b) - size(a));
  return new Set(sorted.slice(0, MOST_LINES).map(({ region }) => region));
}
