import type { AlertKind, Severity } from '../../shared/alerts.ts';
import { KIND_WORDS, SEVERITY_WORDS } from '../show/words.ts';
import type { Row } from './rows.ts';

export type Handling = 'handled' | 'not-handled';

/** Which rows are wanted; what is left out wants all. It stands in the page's address, so that it can be kept and sent. */
export interface Filter {
  readonly search?: string;
  readonly region?: string;
  readonly kind?: AlertKind;
  readonly severity?: Severity;
  readonly handling?: Handling;
}

/** Reads what stands in an address; what is no filter there is left out. */
export function filterOf(given: Readonly<Record<string, unknown>>): Filter {
  const { search, region, kind, severity, handling } = given;
  return {
    ...(isText(search) && { search }),
    ...(isText(region) && { region }),
    ...(isKeyOf(kind, KIND_WORDS) && { kind }),
    ...(isKeyOf(severity, SEVERITY_WORDS) && { severity }),
    ...((handling === 'handled' || handling === 'not-handled') && { handling }),
  };
}

/** Somebody has seen to it: acknowledged or shelved it, or somebody is on the way. */
function isHandled({ unitId, acknowledged, shelved }: Row, planned: ReadonlyMap<string, unknown>): boolean {
  return acknowledged !== null || shelved !== null || planned.has(unitId);
}

/** The rows that are wanted, in the order in which they come. Every word of the search must be found. */
export function matching(
  rows: readonly Row[],
  { search = '', region, kind, severity, handling }: Filter,
  planned: ReadonlyMap<string, unknown>,
): readonly Row[] {
  const words = search.toLowerCase().split(/\s+/).filter(Boolean);
  if (words.length === 0 && !region && !kind && !severity && !handling) return rows;
  return rows.filter(
    (row) =>
      (!region || row.region === region) &&
      (!kind || row.kind === kind) &&
      (!severity || row.severity === severity) &&
      (!handling || isHandled(row, planned) === (handling === 'handled')) &&
      words.every((word) => row.text.includes(word)),
  );
}

function isText(value: unknown): value is string {
  return typeof value === 'string' && value !== '';
}

function isKeyOf<Key extends string>(value: unknown, words: Readonly<Record<Key, string>>): value is Key {
  return typeof value === 'string' && Object.hasOwn(words, value);
}
