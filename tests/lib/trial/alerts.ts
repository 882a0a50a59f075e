import fc from 'fast-check';
import { type Alert, type AlertKind, CAUSES, SEVERITIES } from '../../../shared/alerts.ts';
import { formatInstant } from '../../../shared/time/instant.ts';

const HOUR_MS = 3_600_000;
const FROM = Date.UTC(2026, 0, 1);

/** An alert, with whatever is to differ from a plain one. */
export function alert(over: Partial<Alert> & { kind: AlertKind; raisedAt: string }): Alert {
  const { severity = 'routine', probability = 0.9, raisedAt } = over;
  return {
    ...{ unitId: 'u-1', cause: null, clearedAt: null, severity, probability },
    ...{ history: [{ at: raisedAt, severity, probability }], summary: 'words', evidence: {} },
    ...over,
  };
}

const KINDS: readonly AlertKind[] = ['no-flow', 'overrun', 'salt-low'];
const severity = fc.constantFrom(...SEVERITIES);

/** One alert, on a grid of hours so coarse that instants coincide. */
const one = fc
  .record({
    kind: fc.constantFrom(...KINDS),
    hour: fc.integer({ min: 0, max: 60 }).map((step) => step * 12),
    hours: fc.option(
      fc.integer({ min: 0, max: 40 }).map((step) => step * 12),
      { nil: null },
    ),
    severity,
    later: fc.option(severity, { nil: null }),
    probability: fc.constantFrom(0.5, 0.52, 0.6, 0.95),
    cause: fc.nat(4),
  })
  .map(({ kind, hour, hours, severity: first, later, probability, cause }) => {
    const raised = FROM + hour * HOUR_MS;
    const raisedAt = formatInstant(raised);
    const steps = [{ at: raisedAt, severity: first, probability }];
    if (later) steps.push({ at: formatInstant(raised + 24 * HOUR_MS), severity: later, probability });
    return alert({
      ...{ kind, raisedAt, severity: later ?? first, probability, history: steps },
      cause: CAUSES[kind][cause] ?? null,
      clearedAt: hours === null ? null : formatInstant(raised + hours * HOUR_MS),
    });
  });

/** Alerts of one unit: no two of a kind raised at one instant. */
export const unitAlerts = fc.uniqueArray(one, {
  maxLength: 14,
  selector: ({ kind, raisedAt }) => `${kind} ${raisedAt}`,
});
