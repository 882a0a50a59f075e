/** Why no settings are advised. Stable: callers count by it. */
export const REFUSALS = [
  'history-too-short',
  'too-many-days-missing',
  'no-use',
  'meter-in-doubt',
  'leak',
  'settings-in-doubt',
  'hardness-in-doubt',
] as const;

export type Refusal = (typeof REFUSALS)[number];

/** No settings can be advised: the message says why, `advice` what to do about it. */
export class AdviceRefused extends Error {
  override readonly name = 'AdviceRefused';
  readonly reason: Refusal;
  readonly advice: string;

  constructor(reason: Refusal, message: string, advice: string) {
    super(message);
    this.reason = reason;
    this.advice = advice;
  }
}
