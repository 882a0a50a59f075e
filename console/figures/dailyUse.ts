import { dot, rectY, ruleX } from '@observablehq/plot';
import { convert, unitOf } from '../show/amounts.ts';
import type { Timeline, TimelineDay } from '../unit/timeline.ts';
import { amountAxis, margins, timeAxis } from './axes.ts';
import { bands, hardBar } from './bands.ts';
import type { Draw } from './drawing.ts';
import { endOf } from './siteTime.ts';

const DAY_MS = 86_400_000;

/** What the household used, day by day, and what it may use on the next. */
export function dailyUse(timeline: Timeline): Draw {
  const { from, to, today, days, story } = timeline;
  return (frame) => {
    const { likings } = frame;
    const shown = (gallons: number) => convert(gallons, 'gallons', likings);
    const dayPx = ((frame.width - 80) * DAY_MS) / (to - from);
    const { forecast } = story;
    const next = forecast ? [{ ...forecast.nextDayUse, at: endOf(forecast.asOf) + DAY_MS / 2 }] : [];
    return {
      ...margins(frame),
      height: frame.isNarrow ? 190 : 210,
      x: { type: 'utc', domain: [from, to] },
      y: { nice: true, ...(days.every(({ report }) => report === null) && { domain: [0, shown(100)] }) },
      marks: [
        ...bands(timeline, frame),
        ...amountAxis(`${unitOf('gallons', likings)} a day`, frame),
        rectY(
          days.filter(({ report }) => report !== null),
          {
            x1: ({ start }: TimelineDay) => start,
            x2: ({ date }: TimelineDay) => endOf(date),
            y: ({ report }: TimelineDay) => shown(report?.gallons ?? 0),
            fill: 'var(--accent)',
            inset: 0,
            insetRight: dayPx > 3 ? 1 : 0,
          },
        ),
        ruleX(next, {
          x: 'at',
          y1: ({ p10 }: { p10: number }) => shown(p10),
          y2: ({ p90 }: { p90: number }) => shown(p90),
          stroke: 'var(--accent)',
          strokeWidth: 2,
          strokeDasharray: '1.5,3',
        }),
        dot(next, {
          x: 'at',
          y: ({ p50 }: { p50: number }) => shown(p50),
          r: 3,
          fill: 'var(--panel)',
          stroke: 'var(--accent)',
        }),
        hardBar(timeline),
        ...timeAxis(from, to, today, frame),
      ],
    };
  };
}
