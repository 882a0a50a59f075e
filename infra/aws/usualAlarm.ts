/** Seconds, as Amazon CloudWatch counts periods. */
export const MINUTE = 60;
export const HOUR = 60 * MINUTE;

/** What all have unless they say otherwise: any of it in five minutes, told in the morning. */
export const USUAL = {
  is: 'at-least',
  threshold: 1,
  periodSeconds: 5 * MINUTE,
  periods: 1,
  missing: 'good',
  urgency: 'morning',
  // To be set by the first months of a real fleet.
  source: 'a guess, no source',
} as const;

/** One of two numbers, by how large the fleet is. */
export type Many = (small: number, large: number) => number;
