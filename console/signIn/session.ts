/**
 * The access token: in memory, and in the tab's session storage so that loading the page again does not ask to sign in
 * again. Never in local storage or a cookie: it ends with the tab.
 */
interface Session {
  readonly accessToken: string;
  /** Real time, milliseconds since 1970, not the service's. */
  readonly since: number;
}

const KEY = 'brinebell.session';

let session: Session | undefined = stored();

/** The token to send, if somebody has signed in. */
export function accessToken(): string | undefined {
  return session?.accessToken;
}

/** Milliseconds since somebody signed in; undefined if nobody has. */
export function sessionAge(): number | undefined {
  return session && Date.now() - session.since;
}

export function keepSession(token: string): void {
  session = { accessToken: token, since: Date.now() };
  sessionStorage.setItem(KEY, JSON.stringify(session));
}

export function endSession(): void {
  session = undefined;
  sessionStorage.removeItem(KEY);
}

function stored(): Session | undefined {
  const text = sessionStorage.getItem(KEY);
  if (text === null) return undefined;
  const read: unknown = JSON.parse(text);
  if (typeof read !== 'object' || read === null) return undefined;
  if (!('accessToken' in read) || typeof read.accessToken !== 'string') return undefined;
  return { accessToken: read.accessToken, since: 'since' in read ? Number(read.since) : 0 };
}
