import fc from 'fast-check';
import type { Notice } from '../../../lib/channels/notice.ts';
import { linkTo } from '../../../lib/channels/notice.ts';
import { CHANGES } from '../../../lib/live/transitions.ts';
import { type Alert, type AlertCause, type AlertKind, CAUSES, SEVERITIES } from '../../../shared/alerts.ts';

const RAISED = '2026-03-01T12:00:00.000Z';

/** Every kind with each of its causes, and with none. */
export const KINDS_AND_CAUSES: readonly { kind: AlertKind; cause: AlertCause | null }[] = Object.entries(
  CAUSES,
).flatMap(([kind, causes]) => [null, ...causes].map((cause) => ({ kind: kind as AlertKind, cause })));

export function alertWith(over: Partial<Alert> = {}): Alert {
  return {
    unitId: 'u-17',
    kind: 'no-flow',
    cause: 'meter-stalled',
    severity: 'urgent',
    raisedAt: RAISED,
    clearedAt: null,
    probability: 0.97,
    history: [{ at: RAISED, severity: 'urgent', probability: 0.97 }],
    summary: 'The meter has registered nothing for 12 days, since 2026-02-17: it has probably stalled.',
    evidence: { zeroDays: 12 },
    ...over,
  };
}

export function noticeWith(over: Partial<Notice> = {}): Notice {
  return {
    key: 'no-flow-1-raised-urgent-1',
    change: 'raised',
    at: Date.parse(RAISED),
    alertId: 'no-flow-1',
    alert: alertWith(),
    company: { companyId: 'acme', name: 'Acme Water' },
    unitId: 'u-17',
    sequence: 1_000_000,
    siteId: 'site-17',
    region: 'alder-county',
    link: linkTo(new URL('https://console.example'), 'u-17', 'no-flow-1'),
    ...over,
  };
}

const id = fc.stringMatching(/^[A-Za-z0-9][A-Za-z0-9._-]{0,63}$/);
/** Any text at all: line ends, controls, half surrogates and what turns the direction of writing among it. */
const anyText = fc.oneof(
  fc.string({ unit: 'binary', minLength: 1, maxLength: 200 }),
  fc.string({
    unit: fc.constantFrom('\r', '\n', 'Bcc: a@b.example', '\u2028', '\u202e', '\ud800', 'é', '’', 'x '),
    minLength: 1,
  }),
  fc.lorem({ maxCount: 40 }),
);

/** Any notice, however wild its words. */
export const anyNotice: fc.Arbitrary<Notice> = fc
  .record({
    what: fc.constantFrom(...KINDS_AND_CAUSES),
    severity: fc.constantFrom(...SEVERITIES),
    change: fc.constantFrom(...CHANGES),
    summary: anyText,
    name: anyText,
    unitId: id,
    siteId: fc.option(id, { nil: undefined }),
    region: fc.option(id, { nil: undefined }),
    base: fc.constantFrom('https://c.example', 'https://console.water-service.example/brinebell/~[x]^`'),
  })
  .map(({ what, severity, change, summary, name, unitId, siteId, region, base }) =>
    noticeWith({
      change,
      unitId,
      siteId,
      region,
      company: { companyId: 'acme', name },
      alert: alertWith({ unitId, severity, summary, ...what }),
      link: linkTo(new URL(base), unitId, `${what.kind}-1772366400000`),
    }),
  );
