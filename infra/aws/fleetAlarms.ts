import { counted, ofQueue, reputation, ruleFailures } from './alarmMetrics.ts';
import type { AlarmSpec } from './alarmSpec.ts';
import { HOUR, type Many, USUAL } from './usualAlarm.ts';

/** Of what meters send. */
export function ofMeters(many: Many): AlarmSpec[] {
  return [
    {
      ...USUAL,
      ...{ name: 'nothing-received', section: 'nothing-received' },
      means: 'Not one line has come from any meter or gateway.',
      value: { sum: [counted('ingest', 'events_received')] },
      is: 'below',
      periodSeconds: HOUR,
      // Meters tell once a day; a company of one time zone is quiet in between.
      periods: many(26, 6),
      missing: 'bad',
      urgency: 'wake',
    },
    {
      ...USUAL,
      ...{ name: 'quarantine-share', section: 'quarantine-share' },
      means: 'More than one in twenty lines is set aside: meters, a gateway or the registry are wrong.',
      value: {
        share: [counted('ingest', 'events_quarantined')],
        in: [counted('ingest', 'events_received')],
        ofAtLeast: many(20, 1000),
      },
      threshold: 0.05,
      periodSeconds: HOUR,
    },
    {
      ...USUAL,
      ...{ name: 'meter-rule-failures', section: 'meter-rule-failures' },
      means: 'The broker took messages of meters and could not hand them on.',
      value: { sum: ruleFailures() },
      threshold: many(1, 10),
      urgency: 'wake',
    },
    {
      ...USUAL,
      ...{ name: 'meter-undelivered', section: 'meter-undelivered' },
      means:
        'Messages of meters lie where the broker left what it could not hand on: they are not yet facts.',
      value: { sum: [ofQueue('ApproximateNumberOfMessagesVisible', { only: 'undelivered' })] },
      source: 'any is one too many',
    },
  ];
}

/** Of what people are told. */
export function ofNotices(): AlarmSpec[] {
  return [
    {
      ...USUAL,
      ...{ name: 'notices-failed', section: 'notices-failed' },
      means: 'One in five notices is refused by mail, webhook or SMS: people are not told.',
      value: {
        share: [counted('notify', 'notices_failed')],
        in: [counted('notify', 'notices_failed'), counted('notify', 'notices_sent')],
        ofAtLeast: 5,
      },
      threshold: 0.2,
      periodSeconds: HOUR,
    },
    {
      ...USUAL,
      ...{ name: 'mail-bounces', section: 'mail-bounces' },
      means: 'So much mail comes back that SES may soon stop sending ours.',
      value: { sum: [reputation('Reputation.BounceRate')] },
      threshold: 0.04,
      periodSeconds: HOUR,
      source:
        'below the 5 % at which an account is put under review: Amazon SES, "Reputation metrics messages"',
    },
    {
      ...USUAL,
      ...{ name: 'mail-complaints', section: 'mail-complaints' },
      means: 'So many call our mail unwanted that SES may soon stop sending it.',
      value: { sum: [reputation('Reputation.ComplaintRate')] },
      threshold: 0.0008,
      periodSeconds: HOUR,
      source:
        'below the 0.1 % at which an account is put under review: Amazon SES, "Reputation metrics messages"',
    },
  ];
}
