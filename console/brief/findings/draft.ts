/** What a technician has filled in so far; numbers as they were typed. */
export interface Draft {
  /** Codes of causes, or `nothing-found`. */
  readonly findings: readonly string[];
  readonly otherFindings: string;
  /** One a line. */
  readonly work: string;
  readonly parts: readonly string[];
  /** One a line. */
  readonly otherParts: string;
  readonly saltAdded: string;
  readonly rawHardness: string;
  readonly coldHardness: string;
  readonly hotHardness: string;
  readonly hardnessUnit: HardnessUnit;
  readonly notes: string;
}

export type HardnessUnit = 'gpg' | 'mg/L' | '°dH';

export function emptyDraft(units: 'us' | 'metric'): Draft {
  return {
    findings: [],
    otherFindings: '',
    work: '',
    parts: [],
    otherParts: '',
    saltAdded: '',
    rawHardness: '',
    coldHardness: '',
    hotHardness: '',
    hardnessUnit: units === 'us' ? 'gpg' : 'mg/L',
    notes: '',
  };
}

const keyOf = (unitId: string) => `brinebell.findings.${unitId}`;

/** Keeps what is filled in on this device: nothing is lost when the page goes, or the battery. */
export function keepDraft(unitId: string, draft: Draft): void {
  localStorage.setItem(keyOf(unitId), JSON.stringify(draft));
}

/** What was filled in, over an empty form: what an older release kept may lack members. */
export function keptDraft(unitId: string, units: 'us' | 'metric'): Draft {
  const empty = emptyDraft(units);
  const text = localStorage.getItem(keyOf(unitId));
  const kept: unknown = text === null ? undefined : JSON.parse(text);
  if (typeof kept !== 'object' || kept === null) return empty;
  const alike = Object.entries(kept).filter(([name, value]) => isAlike(value, Reflect.get(empty, name)));
  return { ...empty, ...Object.fromEntries(alike) };
}

export function dropDraft(unitId: string): void {
  localStorage.removeItem(keyOf(unitId));
}

function isAlike(value: unknown, empty: unknown): boolean {
  return typeof value === typeof empty && Array.isArray(value) === Array.isArray(empty);
}
