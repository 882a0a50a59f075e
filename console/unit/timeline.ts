import { endOf, type SiteTime, siteTime, startOf } from '../figures/siteTime.ts';
import { daysLater } from '../show/dates.ts';
import type { Alert, Story, StoryDay, StoryRegeneration } from './types.ts';

/** One local day of the time axis, reported or not. */
export interface TimelineDay {
  readonly date: string;
  readonly start: SiteTime;
  /** Null where the day was not reported. */
  readonly report: StoryDay | null;
  /** Its report cannot be there yet: what is told of it is expected, not known. */
  readonly isAhead: boolean;
  /** It should have been reported by now. */
  readonly isMissing: boolean;
  readonly expected: Story['fan'][number] | null;
  readonly regenerations: readonly StoryRegeneration[];
  /** Those that stood on that day. */
  readonly alerts: readonly Alert[];
}

/** The time axis that all figures of a unit share, day by day. */
export interface Timeline {
  readonly story: Story;
  readonly today: string;
  readonly from: SiteTime;
  readonly to: SiteTime;
  readonly days: readonly TimelineDay[];
  /** Days of the range before the first that is known of, which are not drawn. */
  readonly unknownBefore: number;
}

/** Days of the forecast that are drawn at most. */
const MOST_AHEAD = 28;

/** @param today the local date of the site */
export function timelineOf(story: Story, today: string): Timeline {
  const { timeZone } = story.unit;
  const reports = new Map(story.days.map((day) => [day.date, day]));
  const expected = new Map(story.fan.map((day) => [day.date, day]));
  const regenerations = new Map<string, StoryRegeneration[]>();
  for (const each of story.regenerations) {
    regenerations.set(each.date, [...(regenerations.get(each.date) ?? []), each]);
  }
  const alerts = story.alerts.map((alert) => ({
    alert,
    from: siteTime(alert.raisedAt, timeZone),
    to: alert.clearedAt === null ? Number.POSITIVE_INFINITY : siteTime(alert.clearedAt, timeZone),
  }));
  const known = [story.days[0]?.date, story.regenerations[0]?.date]
    .filter((date) => date !== undefined)
    .sort();
  const first = known[0] ?? story.from;
  const last = lastOf(story, today);
  const days: TimelineDay[] = [];
  for (let date = first; date <= last; date = daysLater(date, 1)) {
    const report = reports.get(date) ?? null;
    // Yesterday's report may still be on its way.
    const isAhead = report === null && date >= daysLater(today, -1);
    days.push({
      date,
      start: startOf(date),
      report,
      isAhead,
      isMissing: report === null && !isAhead,
      expected: expected.get(date) ?? null,
      regenerations: regenerations.get(date) ?? [],
      alerts: alerts.flatMap(({ alert, from, to }) =>
        from < endOf(date) && to >= startOf(date) && date <= today ? [alert] : [],
      ),
    });
  }
  return {
    story,
    today,
    from: startOf(first),
    to: endOf(last),
    days,
    unknownBefore: Math.round((startOf(first) - startOf(story.from)) / 86_400_000),
  };
}

function lastOf({ fan, forecast, planned }: Story, today: string): string {
  const most = daysLater(today, MOST_AHEAD);
  const ahead = [
    daysLater(today, 1),
    fan.at(-1)?.date,
    forecast?.exhaustion.p90,
    forecast?.nextRegeneration.p90,
    ...planned.map(({ date }) => date),
  ];
  const shown = ahead.filter((date) => typeof date === 'string').map((date) => earlier(date, most));
  return shown.sort().at(-1) ?? today;
}

function earlier(a: string, b: string): string {
  return a < b ? a : b;
}

/** Runs of neighbouring days that are alike, each as the time from its first to the end of its last. */
export function runsOf(
  days: readonly TimelineDay[],
  isIn: (day: TimelineDay) => boolean,
): { from: SiteTime; to: SiteTime; days: number }[] {
  const runs: { from: SiteTime; to: SiteTime; days: number }[] = [];
  for (const day of days) {
    if (!isIn(day)) continue;
    const last = runs.at(-1);
    const end = endOf(day.date);
    if (last?.to === day.start) Object.assign(last, { to: end, days: last.days + 1 });
    else runs.push({ from: day.start, to: end, days: 1 });
  }
  return runs;
}
