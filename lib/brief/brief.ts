import type { AlertCause, AlertKind } from '../../shared/alerts.ts';
import type { Fact } from '../../shared/facts.ts';
import type { Unit, UnitRecord } from '../../shared/registry.ts';
import { formatInstant, type Instant } from '../../shared/time/instant.ts';
import { formatLocalDate } from '../../shared/time/localDate.ts';
import { toUnit } from '../../shared/toUnit.ts';
import { harmOf, probabilityOf, weightOf } from '../advice/harm.ts';
import type { Head } from '../live/head.ts';
import type { Visit } from '../store/store.ts';
import type { UnitState } from '../unit/state.ts';
import { storyOf } from '../unit/story.ts';
import type { Episode } from '../watch/episode.ts';
import type { Rules } from '../watch/rules.ts';
import { saltRunsOut } from '../watch/saltLow.ts';
import type { Brief } from './briefSchema.ts';
import { causesOf } from './causes.ts';
import { CAUSE_WORDS } from './causeWords.ts';
import { cautionsFor } from './cautions.ts';
import { CHART_DAYS, chartData } from './chartData.ts';
import { checksToMake } from './checksToMake.ts';
import { howSure } from './howSure.ts';
import { partsFor } from './parts.ts';
import { settingsToSet } from './settingsToSet.ts';
import { toRecord } from './toRecord.ts';

/** All that a brief is made from. */
export interface BriefOptions {
  readonly record: UnitRecord;
  readonly companyName: string;
  readonly head: Pick<Head, 'state' | 'open'>;
  /** Those that stand, each id once, in any order. */
  readonly facts: readonly Fact[];
  /** The visit that it is for; its technician as people call them. */
  readonly visit: Pick<Visit, 'visitId' | 'technician' | 'date' | 'reason'> | null;
  readonly at: Instant;
  readonly rules: Rules;
}

/** While one of these is open, a regeneration by hand brings the bed back before anybody leaves. */
const LEAVES_HARD: ReadonlySet<AlertKind> = new Set([
  'no-flow',
  'no-salt-draw',
  'missed-regeneration',
  'overrun',
]);

/** What a technician is to know before a visit: why, what the meter says, what to look for, carry, set and write down. */
export function briefOf({ record, companyName, head, facts, visit, at, rules }: BriefOptions): Brief {
  const unit = toUnit(record);
  const { state } = head;
  const { lastReported } = state;
  const today = unit.zone.dateAt(at);
  const harm = harmOf(unit, state, head.open, lastReported ?? unit.installedOn);
  const open = [...head.open].sort((a, b) => weightOf(b, harm) - weightOf(a, harm));
  const causes = causesOf(unit.unitId, open);
  const named = causes.flatMap(({ cause }) => cause ?? []);
  const kinds = open.map(({ kind }) => kind);
  const chartTo = Math.min(today, lastReported ?? today);
  return {
    unitId: unit.unitId,
    siteId: unit.siteId,
    siteName: record.site?.name ?? null,
    address: record.site?.address ?? null,
    region: unit.region,
    timeZone: unit.zone.name,
    companyName,
    at: formatInstant(at),
    today: formatLocalDate(today),
    lastReported: lastReported === null ? null : formatLocalDate(lastReported),
    softener: softenerOf(unit, state, rules),
    visit: visit && {
      visitId: visit.visitId,
      technician: visit.technician,
      date: visit.date,
      reason: visit.reason,
    },
    why: open.map((episode) => whyOf(unit, episode)),
    hardDaysSoFar: harm.hardDaysSoFar,
    hardDaysExpected: Math.round(10 * harm.hardDaysExpected) / 10,
    chart: chartData(storyOf(unit, facts, rules.fold, chartTo - CHART_DAYS + 1), chartTo),
    causes,
    checks: checksToMake(unit.unitId, open),
    parts: partsFor(named, kinds).map(({ part, because }) => ({ part, because: becauseOf(because) })),
    settings: settingsToSet(unit, state, open, rules['setting-mismatch']),
    beforeLeaving: beforeLeaving(harm.hardDaysSoFar > 0 || kinds.some((kind) => LEAVES_HARD.has(kind))),
    record: toRecord(named, kinds),
    cautions: cautionsFor(state.rawHardnessGpg),
  };
}

function softenerOf(unit: Unit, state: UnitState, rules: Rules): Brief['softener'] {
  const runsOut = saltRunsOut(unit, state, rules['salt-low']);
  const { lb, stuck } = state.memories.saltUse;
  return {
    resinCubicFeet: unit.resinCubicFeet,
    saltDoseLb: state.bed.saltDoseLb,
    compensatedHardnessGpg: state.compensatedHardnessGpg,
    saltInTankLb: stuck || lb === null ? null : Math.max(0, lb),
    saltTankLb: unit.saltTankLb ?? null,
    saltRunsOut: runsOut === null ? null : formatLocalDate(runsOut),
  };
}

function whyOf({ zone }: Unit, episode: Episode): Brief['why'][number] {
  const probability = Math.round(100 * probabilityOf(episode)) / 100;
  return {
    kind: episode.kind,
    severity: episode.severity,
    sentence: episode.summary,
    since: formatLocalDate(zone.dateAt(episode.raisedAt)),
    probability,
    howSure: howSure(probability),
  };
}

function becauseOf(because: AlertCause | AlertKind | null): string | null {
  if (because === null) return null;
  const words: Readonly<Partial<Record<string, string>>> = CAUSE_WORDS;
  return words[because] ?? because.replaceAll('-', ' ');
}

function beforeLeaving(isHard: boolean): string[] {
  return [
    ...(isHard
      ? [
          'The bed has run out, or will: once mended, and with brine in the tank, start a regeneration by hand.',
        ]
      : []),
    'Bypass open to the softener, control plugged in, clock right, no drip.',
  ];
}
