import { scaleOf } from '../../lib/chart/scale.ts';
import { px } from '../../lib/chart/svg.ts';
import { GRID } from '../../lib/demand/backtest/grid.ts';
import type { FamilyScore } from '../../lib/demand/backtest/summary.ts';
import { type Axis, chart } from '../chart/frame.ts';
import { legendRow, lineOf } from './families.ts';
import { nextText, percent, type Report, scoreOf } from './report.ts';

const PROBABILITY: Omit<Axis, 'label'> = {
  from: 0,
  to: 100,
  ticks: [0, 10, 20, 30, 40, 50, 60, 70, 80, 90, 100].map((value) => ({ value, text: String(value) })),
};

/** In which twentieth of the forecast distributions of the demand model it came: level where they are calibrated. */
export function histogram({ bins, days }: FamilyScore): string {
  const level = 1 / bins.length;
  const { ticks } = scaleOf([...bins.map((each) => 100 * each), 160 * level], 0, 0, 1);
  const told = bins.map((share, bin) => `${5 * bin} to ${5 * (bin + 1)} %: ${percent(share)}`);
  return chart(
    {
      id: `histogram-${days}`,
      title: `Where what came lay in the forecast distributions, ${nextText(days)}`,
      description: `Level would be ${percent(level)} each. ${told.join(', ')}.`,
    },
    {
      x: { ...PROBABILITY, label: 'forecast probability of as little, %' },
      y: {
        label: '% of forecasts',
        from: 0,
        to: ticks.at(-1) ?? 1,
        ticks: ticks.map((value) => ({ value, text: String(value) })),
      },
      height: 240,
    },
    ({ x, y, left, right }) => {
      const bars = bins.map((share, bin) => {
        const [from, to, top] = [
          x((100 * bin) / bins.length) + 1,
          x((100 * (bin + 1)) / bins.length) - 1,
          y(100 * share),
        ];
        return `<rect class="bar" x="${px(from)}" width="${px(to - from)}" y="${px(top)}" height="${px(y(0) - top)}"/>`;
      });
      const at = px(y(100 * level));
      return `${bars.join('\n')}\n<line class="goal" x1="${left}" x2="${right}" y1="${at}" y2="${at}"/>`;
    },
  );
}

/** By how much more often than forecast it stayed below each quantile, for every family. */
export function reliability(report: Report, days: number): string {
  const { families } = report;
  const lines = families.map((family) => {
    let sum = 0;
    const bins = scoreOf(report, family, days)?.bins ?? [];
    return GRID.map((p, index) => {
      sum += bins[index] ?? 0;
      return { percent: 100 * p, over: 100 * (sum - p) };
    });
  });
  const furthest = Math.max(5, ...lines.flat().map(({ over }) => Math.abs(over)));
  const most = 5 * Math.ceil(furthest / 5);
  const ticks = [-2, -1, 0, 1, 2].map((half) => (half * most) / 2);
  const worst = families.map(
    (family, index) =>
      `${family}: ${Math.max(...(lines[index] ?? []).map(({ over }) => Math.abs(over))).toFixed(1)} points`,
  );
  return chart(
    {
      id: 'reliability',
      title: `How often it stayed below each quantile, ${nextText(days)}`,
      description: `Furthest from what was forecast: ${worst.join(', ')}.`,
    },
    {
      x: { ...PROBABILITY, label: 'quantile, %' },
      y: {
        label: 'points over',
        from: -most,
        to: most,
        ticks: ticks.map((value) => ({ value, text: value > 0 ? `+${value}` : String(value) })),
      },
      height: 280,
    },
    (places) =>
      [
        `<line class="goal" x1="${places.left}" x2="${places.right}" y1="${px(places.y(0))}" y2="${px(places.y(0))}"/>`,
        legendRow(families, places.right, places.top - 18),
        ...lines
          .map((line, family) =>
            lineOf(
              family,
              line.map((point) => ({ x: places.x(point.percent), y: places.y(point.over) })),
            ),
          )
          .reverse(),
      ].join('\n'),
  );
}
