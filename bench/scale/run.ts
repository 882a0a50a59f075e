import { publish, type Reporting, slotsOf } from './arrivals.ts';
import type { Measured } from './measured.ts';
import { buildPipeline, type Fleet, type Look, type Pipeline } from './pipeline.ts';
import type { Settings } from './settings.ts';
import type { Stage } from './simulator/stage.ts';

/** One thing to be tried. */
export interface Scenario {
  readonly name: string;
  /** What is different, in a few words. */
  readonly what: string;
  readonly fleet: Fleet;
  readonly reporting: Reporting;
  readonly settings: Settings;
  /** `facts`: meters report. `noon`: the sweep has every unit looked at, with messages made at a rate a second. */
  readonly look: Look;
  /** Of the sweep, units a second; only at noon. */
  readonly sweepRate?: number;
}

/** What one stage has been through. Seconds. */
export interface StageOutcome {
  readonly messages: number;
  /** From being sent to being done. */
  readonly p99: number;
  readonly most: number;
  /** The greatest age of the message that is next. */
  readonly oldest: number;
  readonly invocations: number;
  readonly busySeconds: number;
  /** Messages that came back, each time they did. */
  readonly cameBack: number;
  readonly dead: number;
}

/** How it stood at one instant. */
export interface Sample {
  readonly at: number;
  readonly stages: Readonly<Record<StageName, { waiting: number; age: number; running: number }>>;
  readonly running: number;
}

export type StageName = keyof Pipeline['stages'];

export interface Outcome {
  readonly scenario: Scenario;
  readonly stages: Readonly<Record<StageName, StageOutcome>>;
  /** From a meter's report to the alert that came of it, seconds: half of them, 99 of a hundred, all. */
  readonly alerts: {
    readonly count: number;
    readonly p50: number;
    readonly p99: number;
    readonly all: number;
  };
  /** From a meter's report to its unit's state, all of them, seconds. */
  readonly assessedAll: number;
  readonly concurrency: number;
  readonly coldStarts: number;
  /** Invocations turned away, each time they were. */
  readonly throttled: number;
  /** What was turned away by the table and the carriers, in their units, and the most let through in a second. */
  readonly limits: Readonly<
    Record<keyof Pipeline['limits'], { readonly refused: number; readonly peak: number }>
  >;
  readonly samples: readonly Sample[];
}

/** Lets a scenario happen. */
export function run(measured: Measured, scenario: Scenario): Outcome {
  const { fleet, reporting, settings, look, sweepRate = Number.POSITIVE_INFINITY } = scenario;
  const pipeline = buildPipeline(measured, fleet, settings, look);
  const { timeline, stages, account, limits } = pipeline;
  if (look === 'facts') {
    const taken = (count: number, bornAt: number) => stages.ingest.send(count, bornAt);
    publish(timeline, slotsOf(reporting), [limits.publishes, limits.connects], taken);
  } else {
    for (const { at, count } of noonsOf(reporting, sweepRate)) {
      timeline.at(at, () => stages.assess.send(count, timeline.now));
    }
  }
  const samples = sampled(pipeline, lastMidnight(reporting));
  timeline.run();
  const { lateness } = stages.notify;
  return {
    scenario,
    stages: {
      ingest: outcomeOf(stages.ingest, samples, 'ingest'),
      assess: outcomeOf(stages.assess, samples, 'assess'),
      notify: outcomeOf(stages.notify, samples, 'notify'),
    },
    alerts: {
      count: lateness.count,
      p50: lateness.quantile(0.5),
      p99: lateness.quantile(0.99),
      all: lateness.most,
    },
    assessedAll: stages.assess.lateness.most,
    concurrency: account.most,
    coldStarts: account.begun,
    throttled: account.throttled,
    limits: Object.fromEntries(
      Object.entries(limits).map(([name, { refused, peak }]) => [name, { refused, peak }]),
    ) as Outcome['limits'],
    samples,
  };
}

/** Each zone's noon: messages as fast as the sweep makes them. */
function* noonsOf({ meters, zones }: Reporting, rate: number): Generator<{ at: number; count: number }> {
  for (const { laterHours, share } of zones) {
    let left = Math.round(meters * share);
    for (let second = 0; left > 0; second += 1) {
      const count = Math.min(left, rate);
      left -= count;
      yield { at: laterHours * 3600 + second, count };
    }
  }
}

function lastMidnight({ zones, clockSeconds, spreadSeconds }: Reporting): number {
  return Math.max(...zones.map(({ laterHours }) => laterHours)) * 3600 + 8 * clockSeconds + spreadSeconds;
}

/** Looks every few seconds until all is done. */
function sampled({ timeline, stages, account }: Pipeline, atLeastUntil: number): Sample[] {
  const samples: Sample[] = [];
  const look = () => {
    const at = timeline.now;
    const of = ({ waiting, age, running }: Stage) => ({ waiting, age, running });
    samples.push({
      at,
      stages: { ingest: of(stages.ingest), assess: of(stages.assess), notify: of(stages.notify) },
      running: account.running,
    });
    const isBusy = Object.values(stages).some(({ present }) => present > 0);
    if (isBusy || at < atLeastUntil) timeline.at(at + 1, look);
  };
  timeline.at(0, look);
  return samples;
}

function outcomeOf(stage: Stage, samples: readonly Sample[], name: StageName): StageOutcome {
  return {
    messages: stage.sent,
    p99: stage.sojourn.quantile(0.99),
    most: stage.sojourn.most,
    oldest: samples.reduce((most, { stages }) => Math.max(most, stages[name].age), 0),
    invocations: stage.invocations,
    busySeconds: stage.busySeconds,
    cameBack: stage.cameBack,
    dead: stage.dead,
  };
}
