import { scaleOf } from '../../../lib/chart/scale.ts';
import { escaped, px } from '../../../lib/chart/svg.ts';
import type { Outcome, Sample } from '../run.ts';
import { colourOf, legend, PLOT, picture, vertical } from './frame.ts';

/** Points across, so that a curve of hours is no megabyte. */
const POINTS = 400;

/** How something went over a night until a second, a curve for each outcome; the most within each stretch of time. */
export function overTime(
  title: string,
  unit: string,
  outcomes: readonly Outcome[],
  { until, measureOf }: { until: number; measureOf: (sample: Sample) => number },
): string {
  const curves = outcomes.map(({ samples }) => mostOfStretches(samples, until, measureOf));
  const { y, parts } = vertical(
    curves.flatMap((curve) => curve.map(([, value]) => value)),
    unit,
  );
  const x = scaleOf([until / 60], 0, PLOT.left, PLOT.right);
  return picture(title, [
    ...parts,
    ...x.ticks.map(
      (tick) => `<text x="${px(x.at(tick))}" y="${PLOT.bottom + 18}" text-anchor="middle">${tick}</text>`,
    ),
    `<text x="${px((PLOT.left + PLOT.right) / 2)}" y="${PLOT.bottom + 40}" text-anchor="middle">${escaped('minutes since the first midnight')}</text>`,
    ...curves.map((curve, index) => {
      const points = curve.map(([at, value]) => `${px(x.at(at / 60))},${px(y.at(value))}`).join(' ');
      return `<polyline points="${points}" fill="none" stroke="${colourOf(index)}" stroke-width="1.8"/>`;
    }),
    ...legend(outcomes.map(({ scenario }) => scenario.name)),
  ]);
}

function mostOfStretches(
  samples: readonly Sample[],
  until: number,
  measureOf: (sample: Sample) => number,
): [number, number][] {
  const most = new Map<number, number>();
  for (const sample of samples) {
    if (sample.at > until) break;
    const stretch = Math.floor((sample.at / until) * POINTS);
    most.set(stretch, Math.max(most.get(stretch) ?? 0, measureOf(sample)));
  }
  return [...most].map(([stretch, value]) => [(stretch / POINTS) * until, value]);
}
