import { useMemo, useState } from 'react';
import type { Reading } from '../figures/drawing.ts';
import { Figure } from '../figures/Figure.tsx';
import { count } from '../show/amounts.ts';
import { useLikings } from '../show/Likings.tsx';
import { bars, middleOf, shareBars } from './figures/bars.ts';
import { PartKey } from './figures/PartKey.tsx';
import { type Measure, unitWords } from './measures.ts';
import type { MonthSum } from './months.ts';
import { isInferred, partWords, shareParts, type Told, toldOf, valueParts } from './monthTold.ts';
import { monthWords } from './monthWords.ts';
import { shareWords } from './ShareBar.tsx';
import { WHOLENESS_WORDS } from './whole.ts';

interface ByMonthProps {
  readonly title: string;
  readonly measure: Measure;
  readonly months: readonly MonthSum[];
  /** The service's clock, milliseconds since 1970. */
  readonly now: number;
}

/** A measure by month, and beneath it how each month is known; one cursor reads both. */
export function ByMonth({ title, measure, months, now }: ByMonthProps) {
  const likings = useLikings();
  const [cursor, setCursor] = useState<number>();
  const unit = unitWords(measure, 'all', likings);
  const told = useMemo(
    () => months.map((sum) => toldOf(sum, measure, now, likings)),
    [months, measure, now, likings],
  );
  const values = useMemo(
    () =>
      bars(
        told.map((each) => ({ ...each.bar, parts: valueParts(each, measure) })),
        unit,
      ),
    [told, measure, unit],
  );
  const shares = useMemo(
    () => shareBars(told.map((each) => ({ ...each.bar, parts: shareParts(each, measure) }))),
    [told, measure],
  );
  const hasParts = told.some(({ bar }) => !bar.isWhole);
  const isSplit = told.some((each) => valueParts(each, measure).length > 1);
  const valueWords = (each: Told) =>
    each.value === null ? 'nothing to tell' : `${count(each.value, likings)} ${unit}`;
  const knownWords = ({ sum }: Told) => {
    const known = measure.shares(sum);
    return known ? shareWords(known, likings) : 'no report was owed';
  };
  const table = () => ({
    columns: ['Month', `${measure.label}, ${unit}`, 'How it is known', 'Of the whole month'],
    rows: told.map((each) => [
      monthWords(each.sum.month, likings.locale),
      each.value === null ? '–' : count(each.value, likings),
      knownWords(each),
      each.wholeness === 'whole' ? 'yes' : `no: ${WHOLENESS_WORDS[each.wholeness]}`,
    ]),
  });
  const readings = (words: (each: Told) => string): Reading[] =>
    told.map((each) => ({
      at: middleOf(each.bar),
      words: `${monthWords(each.sum.month, likings.locale)}${partWords(each)}: ${words(each)}.`,
    }));
  const shared = { table, cursor, onCursor: setCursor };
  return (
    <>
      <Figure
        title={`${title}, ${unit}`}
        summary={`${measure.about} One bar a month.`}
        legend={
          <PartKey words={isSplit ? { known: 'Measured', inferred: 'Inferred' } : {}} hasParts={hasParts} />
        }
        draw={values}
        readings={readings((each) => `${valueWords(each)}; ${knownWords(each)}`)}
        {...shared}
      />
      <Figure
        title="How it is known, % of what was owed"
        summary="Shares of each month that were measured, inferred and missing."
        legend={
          <PartKey
            words={{
              known: 'Measured',
              ...(isInferred(told, measure) && { inferred: 'Inferred from the dose' }),
              missing: 'Missing: days without a report',
            }}
            hasParts={false}
          />
        }
        draw={shares}
        readings={readings(knownWords)}
        {...shared}
      />
    </>
  );
}
