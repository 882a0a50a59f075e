import { useMemo, useState } from 'react';
import type { Reading } from '../figures/drawing.ts';
import { Figure } from '../figures/Figure.tsx';
import { useLikings } from '../show/Likings.tsx';
import { bars, middleOf, shareBars } from './figures/bars.ts';
import { PartKey } from './figures/PartKey.tsx';
import { CHANCE_WORDS, type EstimateWords, estimateWords } from './intervals.ts';
import { type Measure, unitWords } from './measures.ts';
import { dayWords, knownWords, partWords, type Told, toldOf, valueBar, valueWords } from './monthTold.ts';
import { monthWords } from './monthWords.ts';
import type { RegionMonth } from './toldMonths.ts';
import { WHOLENESS_WORDS } from './whole.ts';

interface ByMonthProps {
  readonly title: string;
  readonly measure: Measure;
  readonly months: readonly RegionMonth[];
  /** The service's clock, milliseconds since 1970. */
  readonly now: number;
}

/** A measure by month, and beneath it the days that it is of; one cursor reads both. */
export function ByMonth({ title, measure, months, now }: ByMonthProps) {
  const likings = useLikings();
  const [cursor, setCursor] = useState<number>();
  const unit = unitWords(measure, 'all', likings);
  const told = useMemo(
    () => months.map((account) => toldOf(account, measure, now, likings)),
    [months, measure, now, likings],
  );
  const valued = useMemo(() => told.map((each) => valueBar(each, measure)), [told, measure]);
  const values = useMemo(() => bars(valued, unit), [valued, unit]);
  const days = useMemo(() => told.map((each) => ({ ...each.bar, parts: each.days ?? [] })), [told]);
  const shares = useMemo(() => shareBars(days), [days]);
  const table = () => ({
    columns: [
      'Month',
      `${measure.label}, ${unit}`,
      `${CHANCE_WORDS} interval, ${unit}`,
      'How it is known',
      'Days owed',
      'Of the whole month',
    ],
    rows: told.map((each) => [
      monthWords(each.account.month, likings.locale),
      ...(each.estimate ? cellsOf(estimateWords(each.estimate, likings)) : ['–', '–']),
      knownWords(each, measure),
      dayWords(each),
      each.wholeness === 'whole' ? 'yes' : `no: ${WHOLENESS_WORDS[each.wholeness]}`,
    ]),
  });
  const readings = (words: (each: Told) => string): Reading[] =>
    told.map((each) => ({
      at: middleOf(each.bar),
      words: `${monthWords(each.account.month, likings.locale)}${partWords(each)}: ${words(each)}.`,
    }));
  const shared = { table, cursor, onCursor: setCursor };
  return (
    <>
      <Figure
        title={`${title}, ${unit}`}
        summary={`${measure.about} One bar a month, parted by how it is known.`}
        legend={<PartKey bars={valued} words={measure.isRatio ? {} : measure.known.full} />}
        draw={values}
        readings={readings(
          (each) =>
            `${valueWords(each, measure, unit, likings)}; ${measure.isRatio ? 'the salt ' : ''}${knownWords(each, measure)}`,
        )}
        {...shared}
      />
      <Figure
        title="Days behind it, % of those owed"
        summary="Of the days of which units owed a report, those reported, estimated and missing."
        legend={
          <PartKey
            bars={days}
            words={{
              known: 'Reported',
              estimated: 'Estimated',
              missing: 'Missing: nothing stands in their place',
            }}
          />
        }
        draw={shares}
        readings={readings((each) => dayWords(each))}
        {...shared}
      />
    </>
  );
}

function cellsOf({ value, bounds = '–' }: EstimateWords): [string, string] {
  return [value, bounds];
}
