/** Why a fleet cannot be simulated as asked. Stable: callers may depend on them. */
export type SimulationErrorCode =
  | 'faults-unreadable'
  | 'region-unknown'
  | 'usage-unreadable'
  | 'usage-too-short';

/** A request for a fleet that cannot be met: what is wrong, and what to do about it. */
export class SimulationError extends Error {
  override readonly name = 'SimulationError';
  readonly code: SimulationErrorCode;
  readonly advice: string;

  constructor(code: SimulationErrorCode, message: string, advice: string) {
    super(message);
    this.code = code;
    this.advice = advice;
  }
}
