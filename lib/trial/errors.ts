/** Why a trial, or a range of its units, comes to nothing, by a stable code. */
const TRIAL_FAILURES = {
  /** The step was given something that is none of ours. */
  'order-invalid': 'a step of the workflow was given what it cannot work on',
  'company-unknown': 'there is no such company',
  'plan-missing': 'the plan of the trial is not there: it must be made first',
  'archive-unreadable': 'the archived events could not be read',
  'registry-unreadable': 'the records of the units could not be read',
  /** The step has left nothing behind: it ran out of time or memory. */
  'no-result': 'it ended without a word, out of time or memory',
  /** Whoever worked on it was stopped. */
  stopped: 'the service was stopped meanwhile: start it again',
  fault: 'the service failed',
} as const;

export type TrialFailure = keyof typeof TRIAL_FAILURES;

/** Thrown by the steps of a trial; `code` says which failure it is. */
export class TrialError extends Error {
  readonly code: TrialFailure;

  constructor(code: TrialFailure, detail?: string, options?: ErrorOptions) {
    super(detail === undefined ? wordsOf(code) : `${wordsOf(code)}: ${detail}`, options);
    this.name = `Trial-${code}`;
    this.code = code;
  }
}

/** What a failure means, in words. */
export function wordsOf(code: TrialFailure): string {
  return TRIAL_FAILURES[code];
}
