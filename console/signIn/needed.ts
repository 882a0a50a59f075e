import { endSession, sessionAge } from './session.ts';

/** A token refused so soon after it was made out would be refused again: asking for another would go round forever. */
const TOO_SOON_MS = 15_000;

let begin: () => void = () => undefined;

/** Says what is to happen when the service no longer knows who asks. */
export function onSignInNeeded(listener: () => void): void {
  begin = listener;
}

/** To be called when the service answers 401. Returns whether somebody is sent to sign in. */
export function signInNeeded(): boolean {
  const age = sessionAge();
  if (age !== undefined && age < TOO_SOON_MS) return false;
  endSession();
  begin();
  return true;
}
