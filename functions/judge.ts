import { factKey } from '../lib/store/factKey.ts';
import type { Quarantined, StoredFact, UnitRef } from '../lib/store/store.ts';
import { type Admission, admit, withReceipt } from '../shared/admission.ts';
import { partsOfSource, sourceSchema } from '../shared/ids.ts';
import type { Unit } from '../shared/registry.ts';
import type { ReceivedMessage } from './messages.ts';

type Received = ReceivedMessage & { readonly messageId: string };

/** What a message was found to be. */
export type Judged = { readonly messageId: string } & (
  | { readonly unit: UnitRef; readonly fact: StoredFact & { readonly id: string } }
  | { readonly quarantined: Quarantined }
);

/** Judges a message against the units of its sender's company; those of others it does not know. */
export function judge(message: Received, units: ReadonlyMap<string, Unit>): Judged {
  const { messageId, companyId, unitId, receivedAt, line } = message;
  const admission = ofSender(admit(line, units, receivedAt), unitId);
  if (admission.accepted) {
    const kept = withReceipt(line, receivedAt);
    return {
      messageId,
      unit: { companyId, unitId: admission.unit.unitId },
      fact: { line: kept, ...factKey(kept) },
    };
  }
  const { reason, detail } = admission;
  return {
    messageId,
    quarantined: { companyId, sender: unitId ?? companyId, receivedAt, reason, detail, raw: line },
  };
}

/** A meter speaks for itself alone. */
function ofSender(admission: Admission, sender: string | null): Admission {
  if (!admission.accepted || sender === null || admission.unit.unitId === sender) return admission;
  return { accepted: false, reason: 'not-an-event', detail: `source: is not that of its sender, ${sender}` };
}

/** The unit that a line says it is of; whether that is so is judged later. */
export function unitNamedIn(line: string): string | undefined {
  try {
    const source = sourceSchema.safeParse(JSON.parse(line)?.source);
    return source.success ? partsOfSource(source.data).unitId : undefined;
  } catch {
    return undefined;
  }
}
