import { useMemo, useState } from 'react';
import { amount } from '../show/amounts.ts';
import { day } from '../show/dates.ts';
import { type Likings, useLikings } from '../show/Likings.tsx';
import { days as daysInWords, SEVERITY_WORDS } from '../show/words.ts';
import type { Timeline } from '../unit/timeline.ts';
import { bedLeft } from './bedLeft.ts';
import { dailyUse } from './dailyUse.ts';
import { episodes } from './episodes.ts';
import { Figure } from './Figure.tsx';
import { Legend } from './Legend.tsx';
import { Patterns } from './Patterns.tsx';
import { AT, readingsOf, sayBed, sayEpisodes, saySalt, sayUse } from './readings.ts';
import { saltDrawn } from './saltDrawn.ts';
import { bedTable, dailyUseTable, episodeTable, saltTable } from './tables.ts';
import styles from './UnitFigures.module.css';

interface UnitFiguresProps {
  readonly timeline: Timeline;
  readonly markedId: string | undefined;
}

/** A unit's figures, one above the other on the same days: a day that is read in one is read in all. */
export function UnitFigures({ timeline, markedId }: UnitFiguresProps) {
  const likings = useLikings();
  const [cursor, setCursor] = useState<number>();
  const shared = { cursor, onCursor: setCursor };
  const figures = useMemo(() => figuresOf(timeline, likings, markedId), [timeline, likings, markedId]);
  return (
    <div className={styles.figures}>
      <Patterns />
      {figures.map(({ legend, ...figure }) => (
        <Figure key={figure.title} {...figure} {...shared} legend={<Legend items={legend} />} />
      ))}
    </div>
  );
}

function figuresOf(timeline: Timeline, likings: Likings, markedId: string | undefined) {
  const { story, days, today } = timeline;
  const { forecast, regenerations, alerts, visits, planned, unit } = story;
  const date = (localDate: string | null | undefined) =>
    localDate ? day(localDate, likings.locale, today) : 'over a year away';
  const span = ({ p10, p50, p90 }: { p10: string | null; p50: string | null; p90: string | null }) =>
    p50 === null ? 'not within a year' : `${date(p50)} (${date(p10)} to ${date(p90)})`;
  // A bed that has run out did so on a day that is known.
  const runsOut = !forecast
    ? ''
    : forecast.remaining <= 0
      ? `ran out ${date(forecast.exhaustion.p50)}`
      : `would run out ${span(forecast.exhaustion)}`;
  const hard = days.filter(({ report }) => report?.isHard).length;
  const missing = days.filter(({ isMissing }) => isMissing).length;
  const hardSign = hard > 0 ? ([['hard', `hard water, ${daysInWords(hard)}`]] as const) : [];
  const missingSign = missing > 0 ? ([['missing', `no report, ${daysInWords(missing)}`]] as const) : [];
  const dose = amount(unit.saltDoseLb, 'lb', likings);
  return [
    {
      title: 'Daily use',
      summary: `Treated water of each of ${days.filter(({ report }) => report).length} days that were reported; ${hard} with hard water, ${missing} without a report.`,
      legend: [['bar', 'treated water'], ...hardSign, ...missingSign] as const,
      draw: dailyUse(timeline),
      readings: readingsOf(timeline, likings, sayUse),
      table: () => dailyUseTable(timeline, likings),
    },
    {
      title: 'What is left in the bed',
      summary: forecast
        ? `What truly remains and what the control believes, day by day. It ${runsOut}; it regenerates next ${span(forecast.nextRegeneration)}.`
        : 'What truly remains and what the control believes, day by day.',
      legend: [
        ['line', 'truly left'],
        ['dashed', 'the control believes'],
        ['drew', 'regenerated, drew salt'],
        ['did-not', 'drew none'],
        ['unsure', 'unsure'],
        ...(forecast
          ? ([
              ...(story.fan.length === 0
                ? []
                : ([['fan', 'expected, 8 times in 10 within the band']] as const)),
              ...(forecast.nextRegeneration.p50 === null
                ? []
                : ([['next', `regenerates next ${span(forecast.nextRegeneration)}`]] as const)),
              ...(forecast.exhaustion.p50 === null ? [] : ([['exhaustion', runsOut]] as const)),
            ] as const)
          : []),
        ...hardSign,
        ...missingSign,
      ] as const,
      draw: bedLeft(timeline),
      readings: readingsOf(timeline, likings, sayBed, AT.end),
      table: () => bedTable(timeline, likings),
    },
    {
      title: 'Salt at each regeneration',
      summary: `${regenerations.length} regenerations against a dose of ${dose}.`,
      legend: [
        ['measured', 'measured in the tank, give or take a few pounds'],
        ['inferred', 'inferred from the dose and how sure the draw is'],
        ['dose', `dose set, ${dose}`],
      ] as const,
      draw: saltDrawn(timeline),
      readings: readingsOf(timeline, likings, saySalt),
      table: () => saltTable(timeline, likings),
    },
    {
      title: 'Alerts and visits',
      summary: `${alerts.length} alerts, ${visits.length} visits made and ${planned.length} planned.`,
      legend: episodeSigns(timeline),
      draw: episodes(timeline, markedId),
      readings: readingsOf(timeline, likings, sayEpisodes),
      table: () => episodeTable(timeline, likings),
    },
  ];
}

/** Only what occurs: each severity, and visits made or planned. */
function episodeSigns({ story: { alerts, visits, planned } }: Timeline) {
  const shown = (['urgent', 'soon', 'routine'] as const).filter((level) =>
    alerts.some(({ severity }) => severity === level),
  );
  return [
    ...shown.map((level) => [level, SEVERITY_WORDS[level].toLowerCase()] as const),
    ...(visits.length > 0 ? ([['visit-made', 'visit made']] as const) : []),
    ...(planned.length > 0 ? ([['visit-planned', 'visit planned']] as const) : []),
  ];
}
