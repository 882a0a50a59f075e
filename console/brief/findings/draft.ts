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
  /** Of the salt: what it was when it was begun, whatever one likes later. */
  readonly saltUnit: 'lb' | 'kg';
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
    saltUnit: units === 'us' ? 'lb' : 'kg',
    rawHardness: '',
    coldHardness: '',
    hotHardness: '',
    hardnessUnit: units === 'us' ? 'gpg' : 'mg/L',
    notes: '',
  };
}

/** Of one person: what somebody else began on the same device is theirs. */
const keyOf = ({ personId, unitId }: DraftOf) => `brinebell.findings.${personId}.${unitId}`;

/** Whose draft it is, and of which unit. */
export interface DraftOf {
  readonly personId: string;
  readonly unitId: string;
}

/** Keeps what is filled in on this device: nothing is lost when the page goes, or the battery. */
export function keepDraft(of: DraftOf, draft: Draft): void {
  localStorage.setItem(keyOf(of), JSON.stringify(draft));
}

/** What was filled in, over an empty form: what an older release kept may lack members. */
export function keptDraft(of: DraftOf, units: 'us' | 'metric'): Draft {
  const empty = emptyDraft(units);
  const text = localStorage.getItem(keyOf(of));
  const kept: unknown = text === null ? undefined : JSON.parse(text);
  if (typeof kept !== 'object' || kept === null) return empty;
  const alike = Object.entries(kept).filter(([name, value]) => isAlike(value, Reflect.get(empty, name)));
  return { ...empty, ...Object.fromEntries(alike) };
}

export function dropDraft(of: DraftOf): void {
  localStorage.removeItem(keyOf(of));
}

function isAlike(value: unknown, empty: unknown): boolean {
  return typeof value === typeof empty && Array.isArray(value) === Array.isArray(empty);
}
