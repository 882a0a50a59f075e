import type { Unit } from '../../../shared/registry.ts';
import type { Instant } from '../../../shared/time/instant.ts';
import type { Head } from '../../live/head.ts';
import type { SaltNeed } from './delivery.ts';
import { type DeliveryUsed, deliveryOf } from './deliveryOf.ts';

/** What salt a unit will need by all that is known of it: nothing while it is out of service. */
export function needOf(
  unit: Unit,
  { state, outOfService }: Pick<Head, 'state' | 'outOfService'>,
  rules: DeliveryUsed,
  at: Instant,
): SaltNeed {
  const isOut = outOfService !== null && (outOfService.until === null || outOfService.until > at);
  return isOut ? { is: 'none', why: 'out-of-service' } : deliveryOf(unit, state, rules, at);
}
