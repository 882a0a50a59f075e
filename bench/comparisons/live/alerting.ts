import type { SimulatedUnit } from '../../../lib/simulation/simulate.ts';
import type { AlertKind } from '../../../shared/alerts.ts';
import type { WireEvent } from '../../../shared/events.ts';
import type { UnitRecord } from '../../../shared/registry.ts';
import { memoryStore } from '../../../tests/support/memoryStore.ts';
import { Pipeline } from '../../../tests/support/pipeline.ts';
import { receivedOf } from '../../scale/unitDay.ts';

/** A unit of which one event raises an alert, and what it reported before. */
export interface Alerting {
  readonly record: UnitRecord;
  readonly before: readonly WireEvent[];
  readonly event: WireEvent;
  readonly kind: AlertKind;
}

/**
 * Finds the event that raises a unit's first alert, by the functions themselves on a table in memory; undefined where none
 * does. Notices of silent units do not count: they wait for those of others.
 */
export async function alertingOf({ record, events }: SimulatedUnit): Promise<Alerting | undefined> {
  const { companyId, unitId } = record;
  const store = memoryStore();
  await store.putCompany({ companyId, name: companyId, channels: [], rules: {} });
  await store.putRecords(companyId, [record]);
  let clock = 0;
  const pipeline = new Pipeline(
    store,
    () => 0.999,
    () => clock,
  );
  const inOrder = [...events].sort((a, b) => receivedOf(a) - receivedOf(b));
  for (const [index, event] of inOrder.entries()) {
    clock = receivedOf(event);
    await pipeline.receive({ companyId, unitId, receivedAt: clock, line: JSON.stringify(event) });
    await pipeline.drain();
    const [first] = pipeline.notices;
    if (!first) continue;
    const { kind } = first.alert;
    return kind === 'silent-unit' ? undefined : { record, before: inOrder.slice(0, index), event, kind };
  }
  return undefined;
}
