import type { MeasureName } from '../../../lib/alarms/targets.ts';
import { count, percent } from '../../show/amounts.ts';
import type { Likings } from '../../show/Likings.tsx';

interface MeasureWords {
  readonly label: string;
  readonly about: string;
  readonly isShare?: boolean;
  readonly unit?: string;
}

/** What is measured, in the order in which it is shown. */
export const MEASURE_WORDS: Readonly<Record<MeasureName, MeasureWords>> = {
  'alarms-per-hour': { label: 'Alerts an hour', about: 'on average', unit: 'an\u00a0hour' },
  'alarms-per-day': { label: 'Alerts a day', about: 'on average', unit: 'a\u00a0day' },
  'peak-alarms-in-10-minutes': {
    label: 'Most alerts in ten minutes',
    about: 'the busiest ten minutes',
    unit: 'alerts',
  },
  'share-of-10-minutes-over-10': {
    label: 'Busy ten minutes',
    about: 'ten minutes with more than ten alerts, of all',
    isShare: true,
  },
  'share-of-time-in-flood': {
    label: 'Time in a flood',
    about: 'more alerts than one person can see to',
    isShare: true,
  },
  'share-of-ten-most-frequent': {
    label: 'The ten most frequent',
    about: 'their share of all alerts',
    isShare: true,
  },
  'chattering-alarms': {
    label: 'Chattering',
    about: 'alerts that came and went time and again',
    unit: 'alerts',
  },
  'fleeting-alarms': {
    label: 'Fleeting',
    about: 'alerts that were over before anybody could act',
    unit: 'alerts',
  },
  'most-stale-on-a-day': {
    label: 'Most left standing on a day',
    about: 'open for over 24 hours, and nobody had seen to them',
    unit: 'alerts',
  },
  'share-high-priority': { label: 'Urgent', about: 'their share of all alerts', isShare: true },
  'share-medium-and-high-priority': {
    label: 'Urgent or soon',
    about: 'their share of all alerts',
    isShare: true,
  },
};

/** A value of a measure with its unit. */
export function measured(name: MeasureName, value: number, likings: Likings): string {
  const { isShare, unit = '' } = MEASURE_WORDS[name];
  return isShare ? percent(value, likings) : `${count(value, likings)}\u00a0${unit}`;
}
