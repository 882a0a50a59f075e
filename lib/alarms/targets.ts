/** A published target that a figure of an alarm system is held to: it is met at `most` or below. */
export interface Target {
  readonly most: number;
  /** A second, laxer bound, where one is published: the most that can be managed at all. */
  readonly manageable?: number;
  readonly source: string;
}

const PUBLIC_SUMMARY = 'as public summaries quote it';

/** The targets, for one operator. */
export const TARGETS = {
  'alarms-per-hour': { most: 6, manageable: 12, source: `ISA-18.2-2016 table 5, ${PUBLIC_SUMMARY}` },
  'alarms-per-day': {
    most: 150,
    manageable: 300,
    source: 'ISA-18.2 and EEMUA 191; from memory, unverified (6 and 12 an hour give 144 and 288)',
  },
  'peak-alarms-in-10-minutes': { most: 10, source: `ISA-18.2-2016 16.4.3, ${PUBLIC_SUMMARY}` },
  'share-of-10-minutes-over-10': { most: 0.01, source: `ISA-18.2-2016 16.4.3, ${PUBLIC_SUMMARY}` },
  'share-of-time-in-flood': { most: 0.01, source: `ISA-18.2-2016 16.4.4, ${PUBLIC_SUMMARY}` },
  'share-of-ten-most-frequent': {
    most: 0.05,
    source: `ISA-18.2-2016 16.4.5 (about 1 to 5 %), ${PUBLIC_SUMMARY}`,
  },
  'chattering-alarms': { most: 0, source: `ISA-18.2-2016 16.4.6, ${PUBLIC_SUMMARY}` },
  'fleeting-alarms': { most: 0, source: `ISA-18.2-2016 16.4.6, ${PUBLIC_SUMMARY}` },
  // Fewer than five.
  'most-stale-on-a-day': { most: 4, source: `ISA-18.2-2016 16.4.7, ${PUBLIC_SUMMARY}` },
  'share-high-priority': {
    most: 0.05,
    source: `ISA-18.2-2016 table 6 (about 80, 15, 5 %), ${PUBLIC_SUMMARY}`,
  },
  'share-medium-and-high-priority': {
    most: 0.2,
    source: `ISA-18.2-2016 table 6 (about 80, 15, 5 %), ${PUBLIC_SUMMARY}`,
  },
} as const satisfies Record<string, Target>;

export type MeasureName = keyof typeof TARGETS;

/** A shorter window is not judged (ISA-18.2-2016, 16.4, as public summaries quote it). */
export const SHORTEST_WINDOW_DAYS = 30;
