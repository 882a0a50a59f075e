import { scaleOf } from '../../lib/chart/scale.ts';
import type { FamilyScore } from '../../lib/demand/backtest/summary.ts';
import { type Axis, bandAcross, chart, type Named } from '../chart/frame.ts';
import { legendRow, lineOf } from './families.ts';
import { nextText, percent, type Report, scoreOf } from './report.ts';

/** The goal of this project: 80 % intervals hold 77 to 83 %. */
const GOAL = { least: 77, most: 83 } as const;
const MOST_COVERED = 100;

/** The loss of each family by horizon. */
export function lossChart(report: Report): string {
  return byHorizon(report, {
    named: { id: 'loss', title: 'Pinball loss by horizon' },
    label: '% of mean use',
    least: 0,
    of: ({ loss }) => loss,
    band: undefined,
  });
}

/** What the 80 % intervals of each family held, by horizon. */
export function coverageChart(report: Report): string {
  const lowest = Math.min(...report.scores.map(({ coverage }) => 100 * coverage[80]));
  return byHorizon(report, {
    named: { id: 'coverage', title: 'Coverage of the 80 % intervals by horizon' },
    label: '% of forecasts',
    least: Math.min(60, 10 * Math.floor(lowest / 10)),
    of: ({ coverage }) => coverage[80],
    band: GOAL,
  });
}

interface Shown {
  named: Pick<Named, 'id' | 'title'>;
  label: string;
  least: number;
  of: (score: FamilyScore) => number | null;
  band: { least: number; most: number } | undefined;
}

function byHorizon(report: Report, { named, label, least, of, band }: Shown): string {
  const { families, horizons } = report;
  const lines = families.map((family) =>
    horizons.flatMap((days, place) => {
      const score = scoreOf(report, family, days);
      const share = score ? of(score) : null;
      return share === null ? [] : { days, place, share };
    }),
  );
  const description = families.map(
    (family, index) =>
      `${family}: ${(lines[index] ?? []).map(({ days, share }) => `${percent(share)} over ${nextText(days)}`).join(', ')}`,
  );
  const shares = lines.flat().map(({ share }) => 100 * share);
  const y = upright(label, band ? MOST_COVERED : Math.max(...shares, 1), least);
  return chart(
    { ...named, description: `${description.join('. ')}.` },
    { x: horizonAxis(horizons), y },
    (places) =>
      [
        band ? bandAcross(places, band.least, band.most) : '',
        legendRow(families, places.right, places.top - 18),
        // The demand model last, so that it lies on top.
        ...lines
          .map((line, family) =>
            lineOf(
              family,
              line.map(({ place, share }) => ({ x: places.x(place), y: places.y(100 * share) })),
            ),
          )
          .reverse(),
      ].join('\n'),
  );
}

/** Horizons side by side, as far apart from each other whatever lies between them. */
function horizonAxis(horizons: readonly number[]): Axis {
  return {
    label: 'number of days together, from the next one on',
    from: -0.5,
    to: horizons.length - 0.5,
    ticks: horizons.map((days, value) => ({ value, text: String(days) })),
  };
}

function upright(label: string, most: number, least: number): Axis {
  const { ticks } = scaleOf([most], least, 0, 1);
  return {
    label,
    from: ticks[0] ?? 0,
    to: ticks.at(-1) ?? 1,
    ticks: ticks.map((value) => ({ value, text: String(value) })),
  };
}
