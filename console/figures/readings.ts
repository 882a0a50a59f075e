import { amount, percent } from '../show/amounts.ts';
import { day, daysBetween } from '../show/dates.ts';
import type { Likings } from '../show/Likings.tsx';
import { KIND_WORDS, SEVERITY_WORDS } from '../show/words.ts';
import { saltWords } from '../unit/saltWords.ts';
import type { Timeline, TimelineDay } from '../unit/timeline.ts';
import type { Reading } from './drawing.ts';
import { SALT_SAID_WORDS, saltSaid } from './saltSaid.ts';

type Say = (day: TimelineDay, timeline: Timeline, likings: Likings) => string;

/** Where in a day its reading stands: what is of the whole day at its noon, what is of its end just before that. */
export const AT = { noon: 43_200_000, end: 86_399_999 } as const;

/** What is read of each day of a figure over time, in words. */
export function readingsOf(
  timeline: Timeline,
  likings: Likings,
  say: Say,
  at: number = AT.noon,
): readonly Reading[] {
  const { days, today } = timeline;
  return days.map((each) => ({
    at: each.start + at,
    words: `${day(each.date, likings.locale, today)}: ${say(each, timeline, likings)}`,
  }));
}

export const sayUse: Say = ({ date, report, isMissing }, { story }, likings) => {
  const { forecast } = story;
  if (report)
    return `${amount(report.gallons, 'gallons', likings)} used${report.isHard ? ', hard water' : ''}`;
  if (isMissing) return 'no report';
  if (forecast && daysBetween(forecast.asOf, date) === 1) {
    const { p10, p50, p90 } = forecast.nextDayUse;
    return `expected ${amount(p50, 'gallons', likings)}, most likely ${amount(p10, 'gallons', likings)} to ${amount(p90, 'gallons', likings)}`;
  }
  return 'still to come';
};

export const sayBed: Say = ({ report, isMissing, expected, regenerations }, _, likings) => {
  const parts: string[] = [];
  if (report) {
    const { remainingGallons, believedGallons, isHard } = report;
    parts.push(
      remainingGallons < 0
        ? `overrun by ${amount(-remainingGallons, 'gallons', likings)}`
        : `${amount(remainingGallons, 'gallons', likings)} truly left`,
      believedGallons === null
        ? 'the control counts nothing'
        : `the control believes ${amount(believedGallons, 'gallons', likings)}`,
    );
    if (isHard) parts.push('hard water');
  } else if (isMissing) parts.push('no report');
  if (expected && !report) {
    const { p10, p50, p90 } = expected;
    parts.push(
      `without a regeneration ${amount(p50, 'gallons', likings)} left, most likely ${amount(p10, 'gallons', likings)} to ${amount(p90, 'gallons', likings)}`,
    );
  }
  parts.push(
    ...regenerations.map(
      (each) =>
        `regenerated, ${SALT_SAID_WORDS[saltSaid(each)]} (${percent(each.drewSalt, likings)} that it did)`,
    ),
  );
  return parts.join('; ') || 'still to come';
};

export const saySalt: Say = ({ regenerations, isMissing }, _, likings) =>
  regenerations.map((each) => `salt: ${saltWords(each, likings)}`).join('; ') ||
  (isMissing ? 'no report' : 'no regeneration');

export const sayEpisodes: Say = ({ alerts, date }, { story }) => {
  const planned = story.planned.filter((visit) => visit.date === date);
  const words = [
    ...alerts.map(({ kind, severity }) => `${KIND_WORDS[kind]} (${SEVERITY_WORDS[severity].toLowerCase()})`),
    ...planned.map(() => 'visit planned'),
  ];
  return words.join('; ') || 'no alert';
};
