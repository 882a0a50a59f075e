import type { Drawing, Mark } from '../../../chart/drawing.ts';
import { scaleOf } from '../../../chart/scale.ts';
import type { Estimate } from '../../../estimate/estimate.ts';
import type { Style } from '../content.ts';
import { monthInWords, shortMonth } from '../months.ts';
import { type Quantity, roundedOf } from '../quantity.ts';
import { KNOWN, KNOWN_WORDS, label, line, rows, WIDTH } from './parts.ts';
import type { KnownSalt } from './sharesBar.ts';

/** A month of the chart; null where nothing is known of it, or nothing is told. Its parts may be withheld for themselves. */
export interface ChartedMonth {
  readonly month: string;
  readonly salt: { readonly known: KnownSalt | null; readonly estimate: Estimate } | null;
}

const PLOT = { left: 66, right: WIDTH - 4, top: 52, bottom: 228 };
const HEIGHT = 262;
/** An axis reaches so far at least, in its unit, though there is nothing to show. */
const LEAST_SPAN = 10;
/** Of its place: a bar, and the bar of a whisker's end. */
const BAR = 0.66;
const CAP = 5;

/** Salt month by month, by how it is known, with the 80 % interval of each. */
export function monthsChart(months: readonly ChartedMonth[], mass: Quantity): Drawing<Style> {
  const slot = (PLOT.right - PLOT.left) / Math.max(1, months.length);
  const highs = months.flatMap(({ salt }) =>
    salt ? [Math.max(salt.estimate.high, salt.estimate.value) * mass.factor] : [],
  );
  const scale = scaleOf([...highs, LEAST_SPAN], 0, PLOT.bottom, PLOT.top);
  const y = (lb: number) => scale.at(Math.max(0, lb * mass.factor));
  const bars = months.flatMap(({ salt }, index): Mark<Style>[] => {
    if (!salt) return [label(PLOT.left + (index + 0.5) * slot, PLOT.bottom - 5, '–', { anchor: 'middle' })];
    const width = slot * BAR;
    const x = PLOT.left + index * slot + (slot - width) / 2;
    let below = 0;
    const parts = salt.known
      ? KNOWN.map((known): [Style, number] => [known, salt.known?.[known] ?? 0])
      : [['unparted', salt.estimate.value] satisfies [Style, number]];
    const stack = parts.flatMap(([style, lb]): Mark<Style>[] => {
      const from = below;
      below += Math.max(0, lb);
      const mark: Mark<Style> = { kind: 'rect', style, x, y: y(below), width, height: y(from) - y(below) };
      return below > from ? [mark] : [];
    });
    return [...stack, ...whisker(salt.estimate, x + width / 2, y)];
  });
  const names = months.flatMap(({ month }, index): Mark<Style>[] => {
    const at = PLOT.left + (index + 0.5) * slot;
    const bold = index === months.length - 1;
    const isYears = index === 0 || month.endsWith('-01');
    return [
      label(at, PLOT.bottom + 15, shortMonth(month), { anchor: 'middle', bold }),
      ...(isYears ? [label(at, PLOT.bottom + 28, month.slice(0, 4), { anchor: 'middle' })] : []),
    ];
  });
  return {
    ...{ width: WIDTH, height: HEIGHT },
    title: 'Salt used, month by month',
    description: described(months, mass),
    marks: [
      label(1, 12, `Salt used, ${mass.unit}`, { bold: true }),
      ...key(months.some(({ salt }) => salt?.known === null)),
      ...rows(scale, PLOT.left, PLOT.right),
      ...bars,
      ...names,
    ],
  };
}

function whisker({ low, high }: Estimate, x: number, y: (lb: number) => number): Mark<Style>[] {
  if (!(high > low)) return [];
  return [
    line('whisker', [x, y(low)], [x, y(high)]),
    line('whisker', [x - CAP, y(low)], [x + CAP, y(low)]),
    line('whisker', [x - CAP, y(high)], [x + CAP, y(high)]),
  ];
}

/** Every mark is named beside a sample of it: none is told by its colour alone. */
function key(hasUnparted: boolean): Mark<Style>[] {
  const at = (index: number) => 150 + index * 130;
  const samples = KNOWN.flatMap((known, index): Mark<Style>[] => [
    { kind: 'rect', style: known, x: at(index), y: 3, width: 14, height: 10 },
    label(at(index) + 20, 12, KNOWN_WORDS[known]),
  ]);
  const x = at(3) + 6;
  return [
    ...samples,
    ...(hasUnparted
      ? [
          { kind: 'rect' as const, style: 'unparted' as const, x: at(0), y: 21, width: 14, height: 10 },
          label(at(0) + 20, 30, 'how it is known is withheld'),
        ]
      : []),
    line('whisker', [x, 2], [x, 14]),
    line('whisker', [x - CAP, 2], [x + CAP, 2]),
    line('whisker', [x - CAP, 14], [x + CAP, 14]),
    label(x + 12, 12, '80 % interval'),
  ];
}

function described(months: readonly ChartedMonth[], mass: Quantity): string {
  const told = months.map(({ month, salt }) => {
    if (!salt) return `${monthInWords(month)}: nothing told`;
    const { value, range } = roundedOf(salt.estimate, mass);
    return `${monthInWords(month)}: ${value} ${mass.unit}${range === null ? '' : ` (${range})`}`;
  });
  return `${told.join('; ')}.`;
}
