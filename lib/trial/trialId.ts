/** Trials of a company are numbered from 1: none runs beside another, and each is later than those before. */
export const TRIAL_ID = /^[1-9]\d{0,8}$/;

/** Whether a text is the number of a trial. */
export function isTrialId(text: string): boolean {
  return TRIAL_ID.test(text);
}
