import type { Alert, AlertCause, AlertKind, Severity } from '../../shared/alerts.ts';
import { SEVERITIES } from '../../shared/alerts.ts';
import { formatInstant, type Instant } from '../../shared/time/instant.ts';
import { checkOrder } from '../advice/checkOrder.ts';
import type { CheckName } from '../advice/checks.ts';
import type { FieldVisit } from './fieldOutcome.ts';
import type { Evidence, Finding, RankedCause } from './kind.ts';

/** One episode of an alert, from its raising until the condition is over. Plain data. */
export interface Episode {
  readonly kind: AlertKind;
  readonly cause: AlertCause | null;
  /** All that come into question, the likeliest first. */
  readonly causes: readonly RankedCause[];
  readonly severity: Severity;
  readonly raisedAt: Instant;
  readonly clearedAt: Instant | null;
  readonly history: readonly EpisodeStep[];
  readonly summary: string;
  readonly evidence: Evidence;
  /** What this explains and therefore raised no alert of its own. */
  readonly consequences: readonly Consequence[];
  /** Why it is over; left out where that is because its condition is. */
  readonly endedBy?: EndedBy;
  /** Left out where it has never come back. */
  readonly lapse?: Lapse;
  /** Left out until somebody has been there. */
  readonly visit?: FieldVisit;
}

/**
 * What ended an episode although its condition may last: `suppressed` is by design, an open episode explains it;
 * `out-of-service` is the unit that somebody took out of service.
 */
export type EndedBy = 'suppressed' | 'out-of-service';

/** That an episode was over and came back: how often, and from when to when the last time. */
interface Lapse {
  readonly times: number;
  readonly clearedAt: Instant;
  readonly reopenedAt: Instant;
}

interface EpisodeStep {
  readonly at: Instant;
  readonly severity: Severity;
  readonly probability: number;
}

interface Consequence {
  readonly kind: AlertKind;
  readonly since: Instant;
}

/** A change of the probability smaller than this is not written down. */
const NOTEWORTHY = 0.05;
/** A severity is kept until the probability has fallen this far below what gave it: no flicker at a threshold. */
const SEVERITY_HYSTERESIS = 0.1;

/** Raises an episode. */
export function raise(kind: AlertKind, finding: Finding, severity: Severity, at: Instant): Episode {
  return {
    kind,
    cause: finding.causes[0]?.cause ?? null,
    causes: finding.causes,
    severity,
    raisedAt: at,
    clearedAt: null,
    history: [{ at, severity, probability: finding.probability }],
    summary: finding.summary(),
    evidence: finding.evidence(),
    consequences: [],
  };
}

/** Carries an episode on: its words and evidence are those of now, its history has what is noteworthy. */
export function goOn(episode: Episode, finding: Finding, at: Instant): Episode {
  return told(episode, finding, nextSeverity(episode, finding), at);
}

/** Ends an episode. */
export function clear(episode: Episode, at: Instant, endedBy?: EndedBy): Episode {
  const next = draftOf(episode);
  next.clearedAt = at;
  if (endedBy) next.endedBy = endedBy;
  return next;
}

/** Has an episode that was over go on: its condition has come back before anybody could call it gone. */
export function reopen(episode: Episode, finding: Finding, severity: Severity, at: Instant): Episode {
  const { endedBy: _, clearedAt, ...before } = told(episode, finding, severity, at);
  const times = (episode.lapse?.times ?? 0) + 1;
  return { ...before, clearedAt: null, lapse: { times, clearedAt: clearedAt ?? at, reopenedAt: at } };
}

/** Notes a consequence, once. */
export function explain(episode: Episode, kind: AlertKind, since: Instant): Episode {
  if (episode.consequences.some((each) => each.kind === kind)) return episode;
  const next = draftOf(episode);
  next.consequences = [...episode.consequences, { kind, since }];
  return next;
}

/** An episode as the contract writes it. */
export function toAlert(unitId: string, episode: Episode): Alert {
  const { kind, cause, severity, raisedAt, clearedAt, history, summary, evidence, consequences, causes } =
    episode;
  const { endedBy, lapse, visit } = episode;
  return {
    unitId,
    kind,
    cause,
    severity,
    raisedAt: formatInstant(raisedAt),
    clearedAt: clearedAt === null ? null : formatInstant(clearedAt),
    probability: rounded(history[0]?.probability ?? 0),
    history: history.map((step) => ({
      at: formatInstant(step.at),
      severity: step.severity,
      probability: rounded(step.probability),
    })),
    summary,
    evidence: {
      ...Object.fromEntries(Object.entries(evidence).map(([name, value]) => [name, roundedIfNumber(value)])),
      causes: causes.map((each) => ({ ...each, probability: rounded(each.probability) })),
      checks: checksOf(episode),
      consequences: consequences.map(({ kind: what, since }) => ({
        kind: what,
        since: formatInstant(since),
      })),
      ...(endedBy && { endedBy }),
      ...(lapse && {
        reopened: {
          times: lapse.times,
          clearedAt: formatInstant(lapse.clearedAt),
          at: formatInstant(lapse.reopenedAt),
        },
      }),
      ...(visit && { fieldOutcome: { at: formatInstant(visit.at), outcome: visit.outcome } }),
    },
  };
}

/** The checks that tell the causes apart, and from there being nothing, in the order that saves time. */
function checksOf({ causes, history }: Episode): CheckName[] {
  const real = history.at(-1)?.probability ?? 1;
  const suspicions = causes.map(({ cause, probability }) => ({
    suspect: cause,
    probability: probability * real,
  }));
  return checkOrder([...suspicions, { suspect: 'nothing' as const, probability: 1 - real }]).map(
    ({ check }) => check,
  );
}

/** An episode that is still written to. */
type Draft = { -readonly [Key in keyof Episode]: Episode[Key] };

/** A copy of an episode. Named one by one, as where it was raised: a spread costs twenty times as much. */
export function draftOf(episode: Episode): Draft {
  const draft: Draft = {
    kind: episode.kind,
    cause: episode.cause,
    causes: episode.causes,
    severity: episode.severity,
    raisedAt: episode.raisedAt,
    clearedAt: episode.clearedAt,
    history: episode.history,
    summary: episode.summary,
    evidence: episode.evidence,
    consequences: episode.consequences,
  };
  if (episode.endedBy) draft.endedBy = episode.endedBy;
  if (episode.lapse) draft.lapse = episode.lapse;
  if (episode.visit) draft.visit = episode.visit;
  return draft;
}

/** An episode as a finding has it now. */
function told(episode: Episode, finding: Finding, severity: Severity, at: Instant): Draft {
  const { probability, causes } = finding;
  const { history } = episode;
  const moved = Math.abs(probability - (history.at(-1)?.probability ?? 0)) >= NOTEWORTHY;
  const next = draftOf(episode);
  next.cause = causes[0]?.cause ?? null;
  next.causes = causes;
  next.severity = severity;
  if (severity !== episode.severity || moved) next.history = [...history, { at, severity, probability }];
  next.summary = finding.summary();
  next.evidence = finding.evidence();
  return next;
}

function nextSeverity(episode: Episode, finding: Finding): Severity {
  const asked = finding.severity;
  if (asked && SEVERITIES.indexOf(asked) >= SEVERITIES.indexOf(episode.severity)) return asked;
  const given = episode.history.findLast((step) => step.severity === episode.severity);
  const fallen = (given?.probability ?? 0) - finding.probability;
  return asked && fallen > SEVERITY_HYSTERESIS ? asked : episode.severity;
}

function roundedIfNumber(value: Evidence[string]): Evidence[string] {
  return typeof value === 'number' ? rounded(value) : value;
}

/** Four decimals: more would be noise. What is not finite has no JSON. */
function rounded(value: number): number {
  return Number.isFinite(value) ? Math.round(value * 1e4) / 1e4 : 0;
}
