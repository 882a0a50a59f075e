import { dot, rect, text } from '@observablehq/plot';
import { KIND_WORDS } from '../show/words.ts';
import type { Timeline } from '../unit/timeline.ts';
import type { Alert, VisitDone, VisitPlanned } from '../unit/types.ts';
import { margins, timeAxis } from './axes.ts';
import type { Draw } from './drawing.ts';
import { type SiteTime, siteTime, startOf } from './siteTime.ts';

const ROW_PX = 40;
const SYMBOLS = { urgent: 'triangle', soon: 'circle', routine: 'circle' } as const;

interface Episode {
  readonly alert: Alert;
  readonly row: number;
  readonly from: SiteTime;
  readonly to: SiteTime;
}

/** When which alert stood, a row a kind, and when somebody was there or will be. */
export function episodes(timeline: Timeline, markedId: string | undefined): Draw {
  const { from, to, today, story } = timeline;
  const { timeZone } = story.unit;
  const now = startOf(today) + 43_200_000;
  const inRange = story.alerts.filter(
    ({ clearedAt }) => clearedAt === null || siteTime(clearedAt, timeZone) >= from,
  );
  const kinds = [...new Set(inRange.map(({ kind }) => kind))];
  const rows: string[] = kinds.map((kind) => KIND_WORDS[kind]);
  const visits = [...story.visits, ...story.planned];
  if (visits.length > 0) rows.push('Visits');
  const shown: Episode[] = inRange.map((alert) => ({
    alert,
    row: kinds.indexOf(alert.kind),
    from: Math.max(from, siteTime(alert.raisedAt, timeZone)),
    to: alert.clearedAt === null ? now : siteTime(alert.clearedAt, timeZone),
  }));
  return (frame) => ({
    ...margins(frame),
    height: rows.length * ROW_PX + 56,
    x: { type: 'utc', domain: [from, to] },
    y: { domain: [rows.length, 0], axis: null },
    marks: [
      ...timeAxis(from, to, today, frame),
      text(rows, {
        x: () => from,
        y: (_: string, row: number) => row + 0.28,
        text: (words: string) => words,
        textAnchor: 'start',
        fill: 'var(--ink)',
        stroke: 'var(--panel)',
        strokeWidth: 4,
      }),
      rect(shown, {
        x1: 'from',
        x2: 'to',
        y1: ({ row }: Episode) => row + 0.58,
        y2: ({ row }: Episode) => row + 0.86,
        fill: ({ alert }: Episode) => `var(--${alert.severity}-soft)`,
        stroke: ({ alert }: Episode) => `var(--${alert.severity})`,
        strokeWidth: ({ alert }: Episode) => (alert.alertId === markedId ? 3 : 1.25),
        rx: 2,
      }),
      ...(['urgent', 'soon', 'routine'] as const).map((severity) =>
        dot(
          shown.filter(({ alert }) => alert.severity === severity),
          {
            x: 'from',
            y: ({ row }: Episode) => row + 0.72,
            symbol: SYMBOLS[severity],
            r: 5,
            fill: severity === 'routine' ? 'var(--panel)' : `var(--${severity})`,
            stroke: `var(--${severity})`,
            strokeWidth: severity === 'routine' ? 1.6 : 0,
          },
        ),
      ),
      dot(visits, {
        x: (visit: VisitDone | VisitPlanned) => visitTime(visit, timeZone),
        y: () => rows.length - 0.28,
        symbol: 'diamond',
        r: 5.5,
        fill: (visit: VisitDone | VisitPlanned) => ('visitId' in visit ? 'var(--panel)' : 'var(--good)'),
        stroke: 'var(--good)',
        strokeWidth: 1.8,
      }),
    ],
  });
}

function visitTime(visit: VisitDone | VisitPlanned, timeZone: string): SiteTime {
  return 'visitId' in visit ? startOf(visit.date) + 43_200_000 : siteTime(visit.at, timeZone);
}
