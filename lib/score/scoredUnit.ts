import type { Alert } from '../../shared/alerts.ts';
import type { Sense, Unit } from '../../shared/registry.ts';
import { type LocalDate, parseLocalDate } from '../../shared/time/localDate.ts';
import type { Truth } from '../simulation/truth.ts';
import type { UnitSeen } from './seen.ts';

/** One unit of a simulated fleet: what was true of it, and what was said. */
export interface ScoredUnit {
  readonly unit: Pick<Unit, 'unitId' | 'zone' | 'senses' | 'alternating'> & Partial<Pick<Unit, 'saltDoseLb'>>;
  readonly truth: readonly Truth[];
  readonly alerts: readonly Alert[];
  /** Local days, both included, over which it was watched. */
  readonly from: LocalDate;
  readonly to: LocalDate;
  /** What its events say. Without it the scores that need it are left out: runs of zero days, simple rules, the bound. */
  readonly seen?: UnitSeen | undefined;
}

/** A fault that was there to be told. */
export interface ScoredFault {
  /** Its name, with the variant where a fault has several. */
  readonly name: string;
  readonly truth: Truth;
  /** The first day on which anybody could know, and the last on which it was so. */
  readonly shownOn: LocalDate;
  readonly endsOn: LocalDate;
  /** Kinds and causes that are right to say of it, the first before all. */
  readonly right: readonly { readonly kind: string; readonly cause: string | null }[];
  /** Whether the unit carries what tells of it. */
  readonly isSensed: boolean;
}

/** A fault that ends, or the watch does, before so many days is not counted: nobody could have told it. */
const DAYS_TO_TELL: Readonly<Record<string, number>> = {
  'meter-stalled': 21,
  'meter-obstructed': 30,
  leak: 3,
  silent: 4,
  'regeneration-missed': 4,
};
const DAYS_TO_TELL_ELSE = 15;

/** What a unit must carry for a fault to be told; any of several. */
const SENSED_BY: Readonly<Partial<Record<string, readonly Sense[]>>> = {
  'meter-obstructed': ['peak-flow'],
  leak: ['peak-flow'],
  'tank-empty': ['salt-level'],
  'salt-bridged': ['salt-level'],
  'brine-not-drawn': ['salt-level', 'brine-draw'],
};

/**
 * The faults of a unit that there was time to tell. Of the others, `neverShown` made no difference to anything before
 * they were mended, or the watch ended; `tooShort` showed, but ended before there was much to go by.
 */
export function faultsOf(scored: ScoredUnit): {
  faults: ScoredFault[];
  tooShort: number;
  neverShown: number;
} {
  const shown = shownFaultsOf(scored);
  const faults = shown.filter(
    ({ truth, shownOn, endsOn }) =>
      endsOn - shownOn >= (DAYS_TO_TELL[String(truth.detail.fault)] ?? DAYS_TO_TELL_ELSE),
  );
  const injected = scored.truth.filter(({ what, kind }) => what === 'fault' && kind !== null);
  return {
    faults,
    tooShort: shown.length - faults.length,
    neverShown: injected.length - shown.length,
  };
}

/** The faults of a unit that showed while it was watched, for however long. */
function shownFaultsOf({ unit, truth, to }: ScoredUnit): ScoredFault[] {
  return truth.flatMap((entry) => {
    if (entry.what !== 'fault' || entry.kind === null) return [];
    const shownOn = parseLocalDate(String(entry.detail.shownOn));
    if (shownOn === undefined || shownOn > to) return [];
    const fault = String(entry.detail.fault);
    const senses = SENSED_BY[fault];
    return [
      {
        name: fault === 'regeneration-missed' ? `${fault} (${entry.cause})` : fault,
        truth: entry,
        shownOn,
        endsOn: Math.min(to, parseLocalDate(entry.to ?? '') ?? to),
        right: [{ kind: entry.kind, cause: entry.cause }, ...namingsIn(entry.detail.also)],
        isSensed: senses === undefined || senses.some((sense) => unit.senses.includes(sense)),
      },
    ];
  });
}

/** The local day on which an instant of an alert falls. */
export function dayOf({ unit }: Pick<ScoredUnit, 'unit'>, instant: string): LocalDate {
  return unit.zone.dateAt(Date.parse(instant));
}

/** The order in which alerts are judged, whatever that of their lines. */
export function byRaising(a: Alert, b: Alert): number {
  const key = ({ raisedAt, kind, clearedAt }: Alert) => `${Date.parse(raisedAt)} ${kind} ${clearedAt ?? '~'}`;
  const [one, other] = [key(a), key(b)];
  return one < other ? -1 : Number(one > other);
}

function namingsIn(also: unknown): { kind: string; cause: string | null }[] {
  if (!Array.isArray(also)) return [];
  return also.flatMap((each: unknown) =>
    typeof each === 'object' && each !== null && 'kind' in each && 'cause' in each
      ? [{ kind: String(each.kind), cause: each.cause === null ? null : String(each.cause) }]
      : [],
  );
}
