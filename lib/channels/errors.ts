/** What can go wrong between us and the other side, and whether the same will fail again for good. */
const CHANNEL_FAILURES = {
  /** It refuses this message or this address. Mend the address, or what the other side has against us. */
  refused: { permanent: true },
  /** The service has no means to send on this channel. Set it up, or take it from the company's channels. */
  'not-set-up': { permanent: true },
  /** It stands at an address that the service does not call. Give one that can be reached from outside. */
  'address-not-allowed': { permanent: true },
  /** It takes nothing for now. Try again later. */
  busy: { permanent: false },
  /** It did not answer; it may have taken the message all the same. Try again under the same id. */
  unreachable: { permanent: false },
} as const;

/** Thrown by every carrier; `code` says which failure it is. */
export class ChannelError extends Error {
  readonly code: keyof typeof CHANNEL_FAILURES;
  /** How long the other side asks to be left alone, milliseconds. */
  readonly retryAfterMs: number | undefined;

  constructor(
    code: keyof typeof CHANNEL_FAILURES,
    message: string,
    options: ErrorOptions & { retryAfterMs?: number | undefined } = {},
  ) {
    super(message, options);
    this.code = code;
    this.retryAfterMs = options.retryAfterMs;
  }

  /** Whether the same would fail again until somebody mends something. */
  get permanent(): boolean {
    return CHANNEL_FAILURES[this.code].permanent;
  }
}
