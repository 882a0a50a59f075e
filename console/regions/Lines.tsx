import { useMemo, useState } from 'react';
import { Figure } from '../figures/Figure.tsx';
import { LineKey } from './figures/LineKey.tsx';
import { lines, type Series } from './figures/lines.ts';

interface LinesProps {
  readonly title: string;
  readonly summary: string;
  readonly unit: string;
  readonly series: readonly Series[];
  /** What a place of the axis is called, such as `June 2026`. */
  readonly nameOf: (at: number) => string;
  readonly withYear: boolean;
}

/** Several lines that are compared, read month by month. */
export function Lines({ title, summary, unit, series, nameOf, withYear }: LinesProps) {
  const [cursor, setCursor] = useState<number>();
  const draw = useMemo(() => lines(series, unit, withYear), [series, unit, withYear]);
  const months = useMemo(
    () => [...new Set(series.flatMap(({ points }) => points.map(({ at }) => at)))].sort((a, b) => a - b),
    [series],
  );
  const words = (each: Series, at: number) => {
    const point = each.points.find((one) => one.at === at);
    if (!point || point.value === null) return '–';
    return `${point.words}${point.isWhole ? '' : '*'}`;
  };
  const hasParts = series.some(({ points }) => points.some(({ isWhole }) => !isWhole));
  return (
    <Figure
      title={`${title}, ${unit}`}
      summary={summary}
      legend={<LineKey names={series.map(({ name }) => name)} hasParts={hasParts} />}
      draw={draw}
      readings={months.map((at) => ({
        at,
        words: `${nameOf(at)}: ${series.map((each) => `${each.name} ${words(each, at)}`).join('; ')} ${unit}.`,
      }))}
      table={() => ({
        columns: ['Month', ...series.map(({ name }) => `${name}, ${unit}`)],
        rows: months.map((at) => [nameOf(at), ...series.map((each) => words(each, at))]),
      })}
      cursor={cursor}
      onCursor={setCursor}
    />
  );
}
