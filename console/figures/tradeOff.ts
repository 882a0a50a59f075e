import { axisX, dot, gridX, ruleY, text } from '@observablehq/plot';
import { convert, count, unitOf } from '../show/amounts.ts';
import type { Advice, Outcome } from '../unit/types.ts';
import { amountAxis } from './axes.ts';
import type { Draw } from './drawing.ts';

type Advised = NonNullable<Advice['advice']>;

/** Where settings stand that nobody would choose: they would press all others into a corner. */
function mostShown(today: Outcome, advised: Outcome, mostHardDays: number): number {
  return 2 * Math.max(today.hardDaysAYear, advised.hardDaysAYear, mostHardDays, 1);
}

/** Those of the frontier that are drawn. */
export function drawnOf({ today, advised, frontier, mostHardDays }: Advised): readonly Outcome[] {
  const most = mostShown(today, advised, mostHardDays);
  return frontier.filter(({ hardDaysAYear }) => hardDaysAYear <= most);
}

/** Settings by what a year of them comes to: salt along, hard-water days up. */
export function tradeOff(advice: Advised): Draw {
  const { today, advised, mostHardDays } = advice;
  const shown = drawnOf(advice);
  const highest = Math.max(mostHardDays, 1, ...[today, advised, ...shown].map((each) => each.hardDaysAYear));
  return (frame) => {
    const { likings } = frame;
    const x = ({ saltLbAYear }: Outcome) => convert(saltLbAYear, 'lb', likings);
    const y = ({ hardDaysAYear }: Outcome) => hardDaysAYear;
    const label = {
      x,
      y,
      dx: 12,
      textAnchor: 'start' as const,
      fill: 'var(--ink)',
      stroke: 'var(--panel)',
      strokeWidth: 4,
      fontWeight: 600,
    };
    return {
      marginLeft: frame.isNarrow ? 44 : 56,
      marginRight: 24,
      marginTop: 28,
      marginBottom: 42,
      height: 280,
      x: { nice: true, insetLeft: 24, insetRight: 24 },
      y: { domain: [0, 1.15 * highest], nice: true, insetBottom: 26 },
      marks: [
        gridX({ ticks: frame.isNarrow ? 4 : 8, stroke: 'var(--line)', strokeOpacity: 1 }),
        ...amountAxis('hard-water days a year', frame),
        axisX({
          ticks: frame.isNarrow ? 4 : 8,
          tickFormat: (value: number) => count(value, likings),
          label: `salt a year, ${unitOf('lb', likings)}`,
          labelArrow: 'none',
        }),
        ruleY([mostHardDays], { stroke: 'var(--urgent)', strokeDasharray: '6,3' }),
        dot(shown, { x, y, r: 3, fill: 'var(--panel)', stroke: 'var(--accent)', strokeWidth: 1.6 }),
        dot([today], { x, y, symbol: 'diamond', r: 8, fill: 'var(--soon)', stroke: 'var(--panel)' }),
        dot([advised], { x, y, symbol: 'triangle', r: 8, fill: 'var(--good)', stroke: 'var(--panel)' }),
        text([today], { ...label, text: () => 'on the control' }),
        text([advised], { ...label, dy: 14, text: () => 'advised' }),
      ],
    };
  };
}
