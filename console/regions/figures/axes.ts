import { axisX, axisY, gridY, type Markish, ruleY } from '@observablehq/plot';
import type { Frame } from '../../figures/drawing.ts';
import { monthTick } from '../monthWords.ts';

/** So much room a month's name wants, pixels. */
const TICK_PX = 44;

/** Room around the axes; the same for all figures of the page, so that their months stand beneath each other. */
export function margins({ isNarrow }: Frame, right = 12) {
  return { marginLeft: isNarrow ? 48 : 60, marginRight: right, marginTop: 28, marginBottom: 40 };
}

/** The months beneath, as many as fit; `at` says where each stands, milliseconds as if in UTC. */
export function monthAxis(months: readonly number[], { width, likings }: Frame, withYear = true): Markish {
  const step = Math.max(1, Math.ceil((months.length * TICK_PX) / Math.max(1, width - 80)));
  const shown = months.filter((_, index) => index % step === 0);
  const years = new Set<number>();
  const words = new Map(
    shown.map((time) => {
      const year = new Date(time).getUTCFullYear();
      const isNew = withYear && !years.has(year);
      years.add(year);
      return [time, monthTick(time, likings.locale, isNew)];
    }),
  );
  return axisX(shown, {
    tickFormat: (time: number) => words.get(Number(time)) ?? '',
    tickSize: 0,
    label: null,
    lineHeight: 1.25,
  });
}

/** Amounts on the left with their unit above: thousands as such, since a year of a region runs into millions. */
export function valueAxis(label: string, { likings }: Frame): Markish[] {
  const format = new Intl.NumberFormat(likings.locale, { notation: 'compact', maximumFractionDigits: 1 });
  return [
    gridY({ ticks: 5, stroke: 'var(--line)', strokeOpacity: 1 }),
    axisY({
      ticks: 5,
      tickFormat: (value: number) => format.format(value),
      label,
      labelArrow: 'none',
      tickSize: 0,
    }),
    ruleY([0], { stroke: 'var(--line-strong)' }),
  ];
}
