/** Every reason for which this folder refuses a number. Stable: callers and logs may depend on them. */
export type SofteningErrorCode =
  | 'hardness-out-of-range'
  | 'iron-out-of-range'
  | 'iron-allowance-out-of-range'
  | 'resin-out-of-range'
  | 'dose-out-of-range'
  | 'capacity-out-of-range'
  | 'salt-out-of-range'
  | 'efficiency-out-of-range'
  | 'efficiency-impossible'
  | 'salometer-out-of-range'
  | 'volume-out-of-range'
  | 'concentration-out-of-range'
  | 'curve-not-concave';

/** A physically impossible or meaningless input. The message says which number and what to do about it. */
export class SofteningError extends Error {
  override readonly name = 'SofteningError';
  readonly code: SofteningErrorCode;
  /** The number refused. */
  readonly value: number;

  constructor(code: SofteningErrorCode, value: number, message: string) {
    super(message);
    this.code = code;
    this.value = value;
  }
}

/** Tells whether something caught is a SofteningError, of one code if a code is given. */
export function isSofteningError(error: unknown, code?: SofteningErrorCode): error is SofteningError {
  return error instanceof SofteningError && (code === undefined || error.code === code);
}

/** Returns a finite number of at least 0; throws a SofteningError of the given code for any other. */
export function notNegative(value: number, what: string, code: SofteningErrorCode): number {
  if (value >= 0 && value < Infinity) return value;
  throw refused(value, `${what} must be a finite number of at least 0`, code);
}

/** Returns a finite number above 0; throws a SofteningError of the given code for any other. */
export function positive(value: number, what: string, code: SofteningErrorCode): number {
  if (value > 0 && value < Infinity) return value;
  throw refused(value, `${what} must be a finite number above 0`, code);
}

function refused(value: number, rule: string, code: SofteningErrorCode): SofteningError {
  return new SofteningError(code, value, `${rule}, not ${value}. Correct the record or event it came from.`);
}
