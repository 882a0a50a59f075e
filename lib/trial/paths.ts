import type { TrialItem } from './plan.ts';

/** Where a trial's files lie among those of the archive. */
type Trial = Pick<TrialItem, 'companyId' | 'trialId'>;
type Part = Pick<TrialItem, 'companyId' | 'trialId' | 'part'>;

const PART_DIGITS = 6;

/** The folder of all trials of a company: nothing of another's is in it. */
export function trialsFolder(companyId: string): string {
  return `trials/${companyId}/`;
}

export function trialFolder({ companyId, trialId }: Trial): string {
  return `${trialsFolder(companyId)}${trialId}/`;
}

/** The files of a trial as a whole, by what is in them. */
export const trialPaths = {
  plan: (trial: Trial) => `${trialFolder(trial)}plan.json`,
  /** The ranges of units, as the JSON array that a distributed map reads. */
  items: (trial: Trial) => `${trialFolder(trial)}items.json`,
  rows: (trial: Trial) => `${trialFolder(trial)}trial.ndjson`,
  page: (trial: Trial) => `${trialFolder(trial)}trial.html`,
  /** Written last: where it is, the trial is done. */
  summary: (trial: Trial) => `${trialFolder(trial)}summary.json`,
  failure: (trial: Trial) => `${trialFolder(trial)}failed.json`,
};

/** Those of a part. */
export const partPaths = {
  units: (part: Part) => `${trialFolder(part)}units-${numbered(part)}.ndjson`,
  rows: (part: Part) => `${trialFolder(part)}part-${numbered(part)}.ndjson`,
  /** Written last: where it is, the part is done. */
  tally: (part: Part) => `${trialFolder(part)}part-${numbered(part)}.json`,
  failure: (part: Part) => `${trialFolder(part)}failed-${numbered(part)}.json`,
};

function numbered({ part }: Part): string {
  return String(part).padStart(PART_DIGITS, '0');
}
