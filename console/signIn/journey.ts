/** What must be known when somebody comes back from the provider. Kept by the tab, for this one journey. */
export interface Journey {
  readonly state: string;
  readonly verifier: string;
  /** The page that they wanted, of this console. */
  readonly back: string;
}

const KEY = 'brinebell.sign-in';

export function keepJourney(journey: Journey): void {
  sessionStorage.setItem(KEY, JSON.stringify(journey));
}

/** Takes the journey: a second coming back finds none. */
export function takeJourney(): Journey | undefined {
  const text = sessionStorage.getItem(KEY);
  sessionStorage.removeItem(KEY);
  if (text === null) return undefined;
  const read: unknown = JSON.parse(text);
  if (typeof read !== 'object' || read === null) return undefined;
  const { state, verifier, back }: Partial<Record<keyof Journey, unknown>> = read;
  if (typeof state !== 'string' || typeof verifier !== 'string' || typeof back !== 'string') return undefined;
  return { state, verifier, back: ownPath(back) };
}

/** A path of this console, whatever was asked for: nobody is sent elsewhere after signing in. */
export function ownPath(path: string): string {
  if (!URL.canParse(path, location.origin)) return '/';
  const { origin, pathname, search, hash } = new URL(path, location.origin);
  if (origin !== location.origin) return '/';
  // Two slashes at the start would name another host; and the sign-in leads nowhere but back here.
  return /^\/\/|^\/sign(ed)?-in\b/.test(pathname) ? '/' : pathname + search + hash;
}
