import { axisX, axisY, gridY, type Markish, ruleX, ruleY, text } from '@observablehq/plot';
import { count } from '../show/amounts.ts';
import { day, daysLater } from '../show/dates.ts';
import type { Frame } from './drawing.ts';
import { dateOf, type SiteTime, startOf } from './siteTime.ts';

const DAY_MS = 86_400_000;
/** So much room a date wants, pixels. */
const TICK_PX = 84;

/** Room around the axes of a figure over time: the same for all, so that their days stand beneath each other. */
export function margins({ isNarrow }: Frame) {
  return { marginLeft: isNarrow ? 54 : 60, marginRight: isNarrow ? 10 : 16, marginTop: 26, marginBottom: 26 };
}

/** The dates beneath, and a line at which today begins. */
export function timeAxis(from: SiteTime, to: SiteTime, today: string, frame: Frame): Markish[] {
  const { locale } = frame.likings;
  const ticks = ticksOf(from, to, frame.width);
  return [
    axisX(ticks, {
      tickFormat: (time: number) => day(dateOf(time), locale, today),
      tickSize: 4,
      label: null,
    }),
    ruleX([startOf(today)], { stroke: 'var(--ink-soft)', strokeDasharray: '2,3' }),
    text([startOf(today)], {
      x: (time: number) => time,
      text: () => 'today',
      frameAnchor: 'top',
      textAnchor: 'middle',
      dy: -15,
      fill: 'var(--ink-soft)',
    }),
  ];
}

/** Amounts on the left, with their unit above. */
export function amountAxis(label: string, { likings }: Frame): Markish[] {
  return [
    gridY({ ticks: 5, stroke: 'var(--line)', strokeOpacity: 1 }),
    axisY({
      ticks: 5,
      tickFormat: (value: number) => count(value, likings),
      label,
      labelArrow: 'none',
      tickSize: 0,
    }),
    ruleY([0], { stroke: 'var(--line-strong)' }),
  ];
}

function ticksOf(from: SiteTime, to: SiteTime, width: number): SiteTime[] {
  const days = (to - from) / DAY_MS;
  const step = days / Math.max(2, Math.floor(width / TICK_PX));
  if (step > 14) return monthsOf(from, to, Math.ceil(step / 30.4));
  const apart = step <= 1 ? 1 : step <= 2 ? 2 : step <= 7 ? 7 : 14;
  const ticks: SiteTime[] = [];
  for (let date = dateOf(from); startOf(date) < to; date = daysLater(date, apart)) ticks.push(startOf(date));
  return ticks;
}

function monthsOf(from: SiteTime, to: SiteTime, apart: number): SiteTime[] {
  const first = new Date(from);
  const ticks: SiteTime[] = [];
  for (let month = first.getUTCMonth(); ; month += apart) {
    const time = Date.UTC(first.getUTCFullYear(), month, 1);
    if (time >= to) return ticks;
    if (time >= from) ticks.push(time);
  }
}
