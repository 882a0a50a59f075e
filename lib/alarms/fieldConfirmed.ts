import type { AlertKind } from '../../shared/alerts.ts';
import { type Interval, wilson } from './wilson.ts';

/** What a technician found of an alert: its fault, another one, or nothing; or that nobody went. */
export type FieldOutcome = 'confirmed' | 'other-cause' | 'nothing-found' | 'not-visited';

/** A share of visits with its 90 % interval; `value` is null where nobody went. */
export interface FieldRate extends Interval {
  readonly value: number | null;
}

/** How the alerts of one kind fared in the field. Those that were not visited are no sample: nobody chose by chance. */
export interface FieldConfirmed {
  readonly kind: AlertKind;
  readonly visited: number;
  readonly notVisited: number;
  /** Visits that found what the alert said, of all visits. */
  readonly confirmed: FieldRate;
  /** Visits that found that or something else, of all visits: the trip was not for nothing. */
  readonly somethingFound: FieldRate;
}

/** Two-sided 90 %: the normal deviate of 0.95. */
const DEVIATE_90 = 1.6448536269514722;

/** Rates of each kind of which there is an alert, by Wilson's score interval; kinds in alphabetical order. */
export function fieldConfirmed(
  judged: readonly { readonly kind: AlertKind; readonly outcome: FieldOutcome }[],
): FieldConfirmed[] {
  const kinds = [...new Set(judged.map(({ kind }) => kind))].sort();
  return kinds.map((kind) => {
    const outcomes = judged.filter((each) => each.kind === kind).map(({ outcome }) => outcome);
    const count = (of: FieldOutcome) => outcomes.filter((outcome) => outcome === of).length;
    const notVisited = count('not-visited');
    const visited = outcomes.length - notVisited;
    const confirmed = count('confirmed');
    return {
      kind,
      visited,
      notVisited,
      confirmed: rateOf(confirmed, visited),
      somethingFound: rateOf(confirmed + count('other-cause'), visited),
    };
  });
}

function rateOf(part: number, whole: number): FieldRate {
  return { value: whole === 0 ? null : part / whole, ...wilson(part, whole, DEVIATE_90) };
}
