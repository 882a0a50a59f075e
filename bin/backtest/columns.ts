import type { FamilyScore } from '../../lib/demand/backtest/summary.ts';
import { percent } from './report.ts';

/** What is told of a family at a horizon, in a column each. */
export const COLUMNS: readonly { head: string; cell: (score: FamilyScore) => string }[] = [
  { head: 'forecasts', cell: ({ forecasts }) => forecasts.toLocaleString('en') },
  { head: 'loss', cell: ({ loss }) => percent(loss, 2) },
  { head: 'below', cell: ({ below }) => percent(below) },
  { head: 'homes', cell: ({ homesBelow }) => percent(homesBelow, 0) },
  { head: 'CRPS', cell: ({ crps }) => percent(crps, 2) },
  { head: 'interval', cell: ({ intervalScore }) => percent(intervalScore, 0) },
  { head: 'MASE', cell: ({ mase }) => (mase === null ? '-' : mase.toFixed(2)) },
  { head: 'in 50', cell: ({ coverage }) => percent(coverage[50]) },
  { head: 'in 80', cell: ({ coverage }) => percent(coverage[80]) },
  { head: 'in 90', cell: ({ coverage }) => percent(coverage[90]) },
  { head: 'fair', cell: ({ homesFair }) => percent(homesFair, 0) },
];

/** What the columns mean, word by word. */
export const LEGEND: readonly [term: string, meaning: string][] = [
  [
    'loss',
    'mean pinball loss of the 10, 50 and 90 % quantiles, in % of the mean use of the home, homes weighing the same',
  ],
  ['below', 'by how much that is below the loss of the seven-day mean; homes: share of homes where it is'],
  [
    'CRPS',
    'continuous ranked probability score in % of mean use: twice the pinball loss over all probabilities, from 19 quantiles, 5 to 95 %',
  ],
  [
    'interval',
    'score of the 80 % interval in % of mean use: its width, and ten times by how much it was missed',
  ],
  [
    'MASE',
    'mean absolute error of the 50 % quantile over that of the same weekdays a week earlier (two for more than 7 days) in the warm-up; the median home',
  ],
  ['in 50, 80, 90', 'share of all forecasts whose 50, 80 and 90 % interval held what came'],
  ['fair', 'share of homes of whose own days the 80 % interval held 70 to 90 %'],
];
