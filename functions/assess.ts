import type { SQSBatchResponse, SQSEvent } from 'aws-lambda';
import type { UnitRef } from '../lib/store/store.ts';
import { AssessUnit } from './assessUnit.ts';
import { atOnce } from './atOnce.ts';
import { CompanyCache } from './companyCache.ts';
import { Failures } from './failures.ts';
import { groupBy } from './groupBy.ts';
import { readTouched } from './plainMessages.ts';
import type { Ports } from './ports.ts';

const UNITS_AT_ONCE = 8;

/**
 * The function `assess`: takes the facts that touched a unit into its state, and tells of what changed. All messages of
 * one unit are handled together, and fail together; no unit holds up another.
 */
export function assess(ports: Ports): (event: SQSEvent) => Promise<SQSBatchResponse> {
  const assessUnit = new AssessUnit(ports, new CompanyCache(ports));
  return async ({ Records }) => {
    const failures = new Failures(ports.log);
    const messages = Records.flatMap(
      ({ messageId, body, attributes }) =>
        failures.guard([messageId], () => ({
          messageId,
          again: Number(attributes.ApproximateReceiveCount) > 1,
          ...readTouched(body),
        })) ?? [],
    );
    const byUnit = groupBy(messages, ({ companyId, unitId }) => `${companyId}/${unitId}`);
    await atOnce(UNITS_AT_ONCE, [...byUnit.values()], async (ofUnit) => {
      const [first] = ofUnit;
      if (!first) return;
      const unit: UnitRef = { companyId: first.companyId, unitId: first.unitId };
      const facts = ofUnit.flatMap((message) => message.facts);
      await failures.guardAll(
        ofUnit.map(({ messageId }) => messageId),
        () =>
          assessUnit.assess(unit, facts, {
            fresh: ofUnit.some(({ again }) => again),
            changed: ofUnit.some((message) => message.changed),
            noon: ofUnit.findLast(({ noon }) => noon !== undefined)?.noon,
          }),
      );
    });
    return failures.response();
  };
}
