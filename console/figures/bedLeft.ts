import { areaY, dot, line, type Markish, ruleY } from '@observablehq/plot';
import { convert, unitOf } from '../show/amounts.ts';
import type { Timeline, TimelineDay } from '../unit/timeline.ts';
import type { Story, StoryRegeneration } from '../unit/types.ts';
import { amountAxis, margins, timeAxis } from './axes.ts';
import { bands, hardBar } from './bands.ts';
import type { Draw } from './drawing.ts';
import { type SaltSaid, saltSaid } from './saltSaid.ts';
import { endOf, type SiteTime, siteTime, startOf } from './siteTime.ts';

type FanDay = Story['fan'][number];
const HALF_A_DAY = 43_200_000;

type Dates = NonNullable<Story['forecast']>['exhaustion'];

/** What truly remains in the bed against what the control believes, each regeneration, and how it may go on. */
export function bedLeft(timeline: Timeline): Draw {
  const { from, to, today, days, story } = timeline;
  const fan = fanFrom(story);
  return (frame) => {
    const { likings } = frame;
    const shown = (gallons: number | null | undefined) =>
      gallons === null || gallons === undefined ? Number.NaN : convert(gallons, 'gallons', likings);
    return {
      ...margins(frame),
      marginTop: 38,
      height: frame.isNarrow ? 260 : 300,
      x: { type: 'utc', domain: [from, to] },
      y: { nice: true, zero: true, ...(story.days.length === 0 && { domain: [0, shown(1000)] }) },
      marks: [
        ...bands(timeline, frame),
        ...amountAxis(`${unitOf('gallons', likings)} left`, frame),
        areaY(fan, {
          x: ({ date }: FanDay) => endOf(date),
          y1: ({ p10 }: FanDay) => shown(p10),
          y2: ({ p90 }: FanDay) => shown(p90),
          fill: 'var(--accent)',
          fillOpacity: 0.22,
        }),
        line(fan, {
          x: ({ date }: FanDay) => endOf(date),
          y: ({ p50 }: FanDay) => shown(p50),
          stroke: 'var(--accent)',
          strokeWidth: 2,
          strokeDasharray: '1.5,4',
          strokeLinecap: 'round',
        }),
        line(days, {
          x: ({ date }: TimelineDay) => endOf(date),
          y: ({ report }: TimelineDay) => shown(report?.believedGallons),
          stroke: 'var(--soon)',
          strokeWidth: 1.75,
          strokeDasharray: '5,3',
        }),
        line(days, {
          x: ({ date }: TimelineDay) => endOf(date),
          y: ({ report }: TimelineDay) => shown(report?.remainingGallons),
          stroke: 'var(--accent)',
          strokeWidth: 2.25,
        }),
        hardBar(timeline),
        ...ranges(story, to, shown),
        ...regenerationMarks(story),
        ...timeAxis(from, to, today, frame),
      ],
    };
  };
}

/** The fan, from what is left now on. */
function fanFrom({ fan, forecast }: Story): readonly FanDay[] {
  if (!forecast || fan.length === 0) return [];
  const left = forecast.remaining;
  return [{ date: forecast.asOf, p10: left, p50: left, p90: left }, ...fan];
}

const SYMBOLS = { drew: 'triangle', 'did-not': 'times', unsure: 'circle' } as const;

function regenerationMarks({ regenerations, unit }: Story): Markish[] {
  const of = (said: SaltSaid) => regenerations.filter((each) => saltSaid(each) === said);
  const place = {
    x: ({ at }: StoryRegeneration) => siteTime(at, unit.timeZone),
    frameAnchor: 'top' as const,
    dy: -8,
  };
  return [
    dot(of('drew'), { ...place, symbol: SYMBOLS.drew, r: 4, fill: 'var(--ink)' }),
    dot(of('unsure'), {
      ...place,
      symbol: SYMBOLS.unsure,
      r: 3.5,
      fill: 'var(--panel)',
      stroke: 'var(--ink)',
    }),
    dot(of('did-not'), {
      ...place,
      symbol: SYMBOLS['did-not'],
      r: 5,
      stroke: 'var(--urgent)',
      strokeWidth: 2.5,
    }),
  ];
}

/** When the bed would run out, on the zero line, and when the control will regenerate, where its reserve begins. */
function ranges({ forecast }: Story, to: SiteTime, shown: (gallons: number) => number): Markish[] {
  if (!forecast) return [];
  const draw = ({ p10, p50, p90 }: Dates, y: number, stroke: string, strokeDasharray: string): Markish[] => {
    if (p50 === null || startOf(p50) >= to) return [];
    const range = { x1: startOf(p10 ?? p50), x2: Math.min(to, endOf(p90 ?? p50)), y };
    const middle = { x: startOf(p50) + HALF_A_DAY, y };
    return [
      ruleY([range], { x1: 'x1', x2: 'x2', y: 'y', stroke, strokeWidth: 3, strokeDasharray }),
      dot([middle], { x: 'x', y: 'y', symbol: 'diamond', r: 5, fill: stroke, stroke: 'var(--panel)' }),
    ];
  };
  return [
    ...draw(forecast.nextRegeneration, shown(forecast.reserve), 'var(--ink)', '4,2'),
    ...draw(forecast.exhaustion, 0, 'var(--urgent)', '0'),
  ];
}
