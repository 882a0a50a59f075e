import type { Instant } from '../../shared/time/instant.ts';
import type { UnitPlan } from './plan.ts';

const DAY = 86_400_000;

/**
 * When that reaches the service which its unit sends in time to be there at an instant. A gateway delivers all that
 * has come together at once; a carrier that is down delivers it when it is up again, a thousand times as fast as it came.
 */
export function arrivalAt({ confounders, outage, start, profile }: UnitPlan, sent: Instant): Instant {
  const { batches } = confounders;
  const delivered = batches ? nextOf(sent, batches) : sent;
  if (!outage) return delivered;
  const down = profile.zone.startOf(start + outage.first);
  const up = profile.zone.startOf(start + outage.last + 1);
  return delivered >= down && delivered < up ? up + Math.round((delivered - down) / 1000) : delivered;
}

/** The first delivery after an instant, to the second. */
function nextOf(sent: Instant, { days, phase }: { days: number; phase: number }): Instant {
  const period = days * DAY;
  const offset = Math.round(phase * days * 86_400) * 1000;
  return Math.ceil((sent - offset) / period) * period + offset;
}
