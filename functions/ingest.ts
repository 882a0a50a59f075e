import type { SQSBatchResponse, SQSEvent } from 'aws-lambda';
import { stored } from './archive/stored.ts';
import { atOnce } from './atOnce.ts';
import { CompanyCache } from './companyCache.ts';
import { Failures } from './failures.ts';
import { groupBy } from './groupBy.ts';
import { receivedIn } from './ingestForms.ts';
import { type Judged, judge, unitNamedIn } from './judge.ts';
import type { Ports } from './ports.ts';
import { touchedBy } from './send.ts';

/** Units whose facts are written at a time. */
const UNITS_AT_ONCE = 8;

/**
 * The function `ingest`: judges lines as they were received. Facts are stored, their units queued to be looked at, and
 * they themselves to be archived; what cannot be accepted is quarantined with its reason. A message is done when that is
 * written; one whose writing fails comes back, and holds up no other.
 */
export function ingest(ports: Ports): (event: SQSEvent) => Promise<SQSBatchResponse> {
  const cache = new CompanyCache(ports);
  return async ({ Records }) => {
    const failures = new Failures(ports.log);
    const judged = await judgeAll(Records, cache, failures);
    await keepQuarantined(judged, ports, failures);
    await keepFacts(judged, ports, failures);
    ports.meter.count('events_received', Records.length);
    return failures.response();
  };
}

async function judgeAll(
  records: SQSEvent['Records'],
  cache: CompanyCache,
  failures: Failures,
): Promise<Judged[]> {
  const messages = records.flatMap(
    (record) =>
      failures.guard([record.messageId], () => ({ messageId: record.messageId, ...receivedIn(record) })) ??
      [],
  );
  const byCompany = groupBy(messages, ({ companyId }) => companyId);
  const judged = await atOnce(UNITS_AT_ONCE, [...byCompany], async ([companyId, ofCompany]) => {
    const ids = ofCompany.map(({ messageId }) => messageId);
    return failures.guardAll(ids, async () => {
      const units = await cache.units(
        companyId,
        ofCompany.flatMap(({ line }) => unitNamedIn(line) ?? []),
      );
      return Promise.all(ofCompany.map((message) => judge(message, units)));
    });
  });
  return judged.flatMap((each) => each ?? []);
}

async function keepQuarantined(judged: readonly Judged[], { store, meter }: Ports, failures: Failures) {
  const some = judged.flatMap((each) => ('quarantined' in each ? [each] : []));
  if (some.length === 0) return;
  await failures.guardAll(
    some.map(({ messageId }) => messageId),
    async () => {
      await store.putQuarantined(some.map(({ quarantined }) => quarantined));
      for (const { quarantined } of some) {
        meter.count('events_quarantined', 1, { reason: quarantined.reason });
      }
    },
  );
}

async function keepFacts(judged: readonly Judged[], { store, queues, meter }: Ports, failures: Failures) {
  const some = judged.flatMap((each) => ('fact' in each ? [each] : []));
  const byUnit = groupBy(some, ({ unit }) => `${unit.companyId}/${unit.unitId}`);
  const ofUnits = [...byUnit.values()].flatMap((ofUnit) => {
    const unit = ofUnit[0]?.unit;
    if (!unit) return [];
    const messageIds = ofUnit.map(({ messageId }) => messageId);
    return [{ unit, messageIds, facts: ofUnit.map(({ fact }) => fact) }];
  });
  const kept = await failures.guardTogether(UNITS_AT_ONCE, ofUnits, async (units) => {
    await store.putFacts(units);
    await queues.assess.send(units.map(({ unit, facts }) => touchedBy(unit, facts)));
    meter.count(
      'events_accepted',
      units.reduce((sum, { facts }) => sum + facts.length, 0),
    );
  });
  // One message of the archive may have the facts of many units.
  const lines = kept.map(({ unit, facts }) => ({ unit, lines: facts.map(({ line }) => line) }));
  await failures.guardAll(
    kept.flatMap(({ messageIds }) => messageIds),
    () => queues.archive.send(stored(lines)),
  );
}
