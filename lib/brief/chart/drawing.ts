import { parseLocalDate } from '../../../shared/time/localDate.ts';
import type { Drawing as AnyDrawing, Mark as AnyMark } from '../../chart/drawing.ts';
import { scaleOf } from '../../chart/scale.ts';
import type { Brief } from '../briefSchema.ts';
import { dayAndMonth } from '../dated.ts';
import type { InUnits } from '../inUnits.ts';

/** What a mark stands for; each form of the chart draws them in its own way. */
export type Style = 'grid' | 'axis' | 'use' | 'hard' | 'truth' | 'belief' | 'regeneration' | 'no-salt';

export type Mark = AnyMark<Style>;

export type Drawing = AnyDrawing<Style>;

const WIDTH = 360;
const LEFT = 44;
const RIGHT = WIDTH - 6;
/** What is left in the bed, above; what is used a day, below. */
const BED = { top: 40, bottom: 124 };
const USE = { top: 158, bottom: 212 };
const HEIGHT = 234;
const TRIANGLE_Y = BED.bottom + 3;
/** An axis reaches so far at least, in its unit, though there is nothing to show. */
const LEAST_SPAN = 10;
const TICKS_AT_MOST = 4;
const DAYS_A_TICK = 9;

/**
 * The one chart of a brief: what truly remains in the bed and what the control believes, the regenerations below it, and
 * the use of each day; days with hard water are shaded. A bed that has run out stands at nothing.
 */
export function drawingOf(chart: Brief['chart'], units: InUnits): Drawing {
  const from = parseLocalDate(chart.from) ?? 0;
  const to = parseLocalDate(chart.to) ?? from;
  const slot = (RIGHT - LEFT) / (to - from + 1);
  const left = (date: string) => LEFT + ((parseLocalDate(date) ?? from) - from) * slot;
  const middle = (date: string) => left(date) + slot / 2;
  const level = (gallons: number) => Math.max(0, units.volumeOf(gallons));
  const remaining = chart.days.map(({ date, remainingGallons }) => ({
    date,
    value: level(remainingGallons),
  }));
  const believed = chart.days.flatMap(({ date, believedGallons }) =>
    believedGallons === null ? [] : [{ date, value: level(believedGallons) }],
  );
  const use = chart.days.map(({ date, gallons }) => ({ date, value: level(gallons) }));
  const bed = scaleOf([...valuesOf([...remaining, ...believed]), LEAST_SPAN], 0, BED.bottom, BED.top);
  const daily = scaleOf([...valuesOf(use), LEAST_SPAN], 0, USE.bottom, USE.top);
  const curve = (some: readonly Point[], style: Style) =>
    stretches(some).map(
      (points): Mark => ({
        kind: 'path',
        style,
        points: points.map(({ date, value }) => [middle(date), bed.at(value)]),
      }),
    );
  const shades = chart.days
    .filter(({ isHard }) => isHard)
    .flatMap(({ date }): Mark[] =>
      [BED, USE].map(({ top, bottom }) => ({
        ...{ kind: 'rect', style: 'hard', x: left(date), y: top, width: slot, height: bottom - top },
      })),
    );
  const bars = use.map(({ date, value }): Mark => {
    const y = daily.at(value);
    return { kind: 'rect', style: 'use', x: left(date) + 0.8, y, width: slot - 1.6, height: USE.bottom - y };
  });
  const regenerations = chart.regenerations.map(
    ({ date, drewSalt }): Mark => ({
      ...{ kind: 'triangle', x: middle(date), y: TRIANGLE_Y },
      style: drewSalt < 0.5 ? 'no-salt' : 'regeneration',
    }),
  );
  const dates = Array.from(
    { length: Math.floor((to - from) / DAYS_A_TICK) + 1 },
    (_, index) => index * DAYS_A_TICK,
  );
  return {
    width: WIDTH,
    height: HEIGHT,
    title: 'What the meter says',
    description: describe(chart, units),
    marks: [
      ...shades,
      ...rows(bed),
      ...rows(daily),
      ...bars,
      ...curve(remaining, 'truth'),
      ...curve(believed, 'belief'),
      ...regenerations,
      ...legend(units),
      label(4, USE.top - 8, `Used each day, ${units.volumeUnit}`, true),
      ...dates.map((days) => {
        const text = dayAndMonth(new Date((from + days) * 86_400_000).toISOString().slice(0, 10));
        return { ...label(LEFT + (days + 0.5) * slot, USE.bottom + 14, text), anchor: 'middle' as const };
      }),
      ...(chart.days.length === 0
        ? [
            {
              ...label((LEFT + RIGHT) / 2, (BED.top + BED.bottom) / 2, 'No day has been reported.', true),
              anchor: 'middle' as const,
            },
          ]
        : []),
    ],
  };
}

interface Point {
  readonly date: string;
  readonly value: number;
}

function valuesOf(points: readonly Point[]): number[] {
  return points.map(({ value }) => value);
}

/** Where days are missing a line ends, and another begins. */
function stretches(points: readonly Point[]): Point[][] {
  const found: Point[][] = [];
  let last = Number.NaN;
  for (const point of points) {
    const date = parseLocalDate(point.date) ?? Number.NaN;
    if (date === last + 1) found.at(-1)?.push(point);
    else found.push([point]);
    last = date;
  }
  return found;
}

function rows(scale: ReturnType<typeof scaleOf>): Mark[] {
  const every = Math.ceil(scale.ticks.length / TICKS_AT_MOST);
  return scale.ticks
    .filter((_, index) => index % every === 0)
    .flatMap((tick, index): Mark[] => {
      const y = scale.at(tick);
      const points = [
        [LEFT, y],
        [RIGHT, y],
      ] as const;
      return [
        { kind: 'path', style: index === 0 ? 'axis' : 'grid', points },
        { ...label(LEFT - 5, y + 3, tick.toLocaleString('en-US')), anchor: 'end' },
      ];
    });
}

/** Every mark is named beside a sample of it: none is told by its colour alone. */
function legend(units: InUnits): Mark[] {
  const sample = (x: number, y: number, style: Style): Mark => ({
    kind: 'path',
    style,
    points: [
      [x, y - 3],
      [x + 18, y - 3],
    ],
  });
  return [
    label(4, 11, `Left in the bed, ${units.volumeUnit}`, true),
    sample(150, 11, 'truth'),
    label(172, 11, 'truly'),
    sample(216, 11, 'belief'),
    label(238, 11, 'by the control'),
    { kind: 'triangle', style: 'regeneration', x: 8, y: 20 },
    label(16, 27, 'regeneration'),
    { kind: 'triangle', style: 'no-salt', x: 100, y: 20 },
    label(108, 27, 'without salt, probably'),
    { kind: 'rect', style: 'hard', x: 250, y: 19, width: 12, height: 9 },
    label(267, 27, 'hard water'),
  ];
}

function label(x: number, y: number, text: string, bold = false): Mark & { kind: 'text' } {
  return { kind: 'text', x, y, text, anchor: 'start', bold };
}

function describe({ days, regenerations }: Brief['chart'], units: InUnits): string {
  const last = days.at(-1);
  if (!last) return 'No day has been reported.';
  const hard = days.filter(({ isHard }) => isHard).length;
  const used = days.reduce((sum, { gallons }) => sum + gallons, 0) / days.length;
  const believed = last.believedGallons === null ? 'nothing' : units.volume(last.believedGallons);
  return `${days.length} reported days up to ${dayAndMonth(last.date)}: ${units.volume(used)} a day on the mean, ${regenerations.length} regenerations, ${hard} days with hard water. At the end ${units.volume(last.remainingGallons)} truly remain in the bed; the control counts on ${believed}.`;
}
