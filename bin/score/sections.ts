import type { Score } from '../../lib/score/score.ts';
import { number } from './number.ts';

/** A part of what is shown of a score: a line of what it is about, and rows of cells, the first of them its head. */
export interface Section {
  readonly title: string;
  readonly rows: readonly (readonly string[])[];
}

/** What is shown of a score beyond its faults, kinds and load: events by kind, calibration, runs, rules, the bound. */
export function sectionsOf(score: Score): Section[] {
  return [eventSection(score), calibrationSection(score), ...runSections(score), ...baselineSection(score)];
}

function eventSection({ events, tooShort, neverShown }: Score): Section {
  const head = [
    '',
    'sensed',
    'told',
    'own kind',
    'days',
    '90 %',
    'regen.',
    '90 %',
    'cause first',
    'told of all',
  ];
  return {
    title: `Faults by the kind that should tell them (not counted: ${tooShort} too short, ${neverShown} never showed)`,
    rows: [
      head,
      ...events.map((each) => [
        each.kind,
        String(each.sensed),
        number(each.recall),
        number(each.recallByOwnKind),
        number(each.medianDelayDays, 0),
        number(each.p90DelayDays, 0),
        number(each.medianDelayRegenerations, 0),
        number(each.p90DelayRegenerations, 0),
        number(each.rightCauseFirst),
        number(each.recallOfAll),
      ]),
    ],
  };
}

function calibrationSection({ calibration: { whenRaised, allSteps } }: Score): Section {
  const errors = (of: typeof allSteps) => `error ${number(of.calibrationError)}, Brier ${number(of.brier)}`;
  return {
    title: `Probabilities of all kinds: when raised ${errors(whenRaised)}; all steps ${errors(allSteps)}`,
    rows: [
      ['from', 'to', 'raised', 'said', 'was so', 'steps', 'said', 'was so'],
      ...allSteps.reliability.map((bin, index) => {
        const raised = whenRaised.reliability[index];
        return [
          bin.from.toFixed(1),
          bin.to.toFixed(1),
          String(raised?.count ?? 0),
          number(raised?.meanProbability ?? null),
          number(raised?.share ?? null),
          String(bin.count),
          number(bin.meanProbability),
          number(bin.share),
        ];
      }),
    ],
  };
}

function runSections({ runs }: Score): Section[] {
  if (!runs) return [];
  const { thirdDay, fromThirdDay, boundCurve } = runs;
  const row = (name: string, each: typeof thirdDay) => [
    name,
    String(each.count),
    String(each.stalled),
    number(each.brier, 4),
    number(each.ofSilence, 4),
    number(each.ofShare, 4),
    number(each.bound, 4),
  ];
  const briers = {
    title: `Brier scores on ${runs.runs} runs of 3 days without flow or more`,
    rows: [
      ['', 'days', 'stalled', 'said', 'silence', 'their share', 'bound'],
      row('on the third day', thirdDay),
      row('from the third day on', fromThirdDay),
    ],
  };
  if (!boundCurve) return [briers];
  const curve = {
    title: 'Who knows how the fleet was made, and acts on a stall once it is as probable as that',
    rows: [
      ['from', 'median day', 'by day 21', 'wrong a unit-year'],
      ...boundCurve.map((point) => [
        point.threshold.toFixed(2),
        number(point.medianDay, 0),
        number(point.byDay21),
        number(point.wrongAUnitYear),
      ]),
    ],
  };
  return [briers, curve];
}

function baselineSection({ baselines }: Score): Section[] {
  if (!baselines) return [];
  const head = ['', 'by', 'told', 'days', 'true', 'false a year', 'healthy', 'by day 21', 'trips', 'Brier'];
  return [
    {
      title: 'Beside no alerts at all, and simple rules (7 days without flow; 2 days without any event)',
      rows: [
        head,
        ...baselines.map((each) => [
          each.kind,
          each.by,
          number(each.recall),
          number(each.medianDelayDays, 0),
          number(each.precision),
          number(each.falseAUnitYear),
          number(each.falseAHealthyUnitYear),
          number(each.sentByDay21),
          number(each.falseTripsAUnitYear),
          number(each.brierOfRuns, 4),
        ]),
      ],
    },
  ];
}
