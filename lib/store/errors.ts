/** What can go wrong between us and the table. */
export const STORE_FAILURES = {
  /** Somebody else has written the same item meanwhile. Read it again and work from there. */
  conflict: true,
  /** The table takes no more for now. Try again later. */
  throttled: true,
  /** It did not answer, or with a fault of its own; what was asked for may have been done. Try again. */
  unavailable: true,
  /** It refuses what was asked for: a fault of ours, or of how the table is set up. */
  refused: false,
} as const;

/** Thrown by every store; `code` says which failure it is. */
export class StoreError extends Error {
  readonly code: keyof typeof STORE_FAILURES;

  constructor(code: keyof typeof STORE_FAILURES, message: string, options?: ErrorOptions) {
    super(message, options);
    this.code = code;
  }

  /** Whether the same may be tried again. */
  get retryable(): boolean {
    return STORE_FAILURES[this.code];
  }
}

/** Whether an error says that somebody else has written the same item meanwhile. */
export function isConflict(error: unknown): boolean {
  return error instanceof StoreError && error.code === 'conflict';
}
