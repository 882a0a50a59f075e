import { factKey } from '../lib/store/factKey.ts';
import type { Quarantined, StoredFact } from '../lib/store/store.ts';
import type { admitBySchema } from '../shared/admission.ts';
import { admitByForm } from '../shared/admitByForm.ts';
import type { EventType } from '../shared/events.ts';
import { QUARANTINE_REASONS, type QuarantineReason } from '../shared/quarantine.ts';
import type { Unit } from '../shared/registry.ts';
import { partsOfSource, SOURCE } from '../shared/source.ts';
import type { Admission } from '../shared/verdict.ts';
import { withReceipt } from '../shared/withReceipt.ts';
import type { ReceivedMessage } from './messages.ts';

type Received = ReceivedMessage & { readonly messageId: string };

/** What a message was found to be. */
export type Judged = { readonly messageId: string } & (
  | { readonly unit: Unit; readonly fact: StoredFact & { readonly id: string } }
  | { readonly quarantined: Quarantined }
);

/** Judges a message against the units of its sender's company; those of others it does not know. */
export async function judge(message: Received, units: ReadonlyMap<string, Unit>): Promise<Judged> {
  const { messageId, companyId, unitId, receivedAt, line } = message;
  const admission = ofSender(await admitByForm(line, units, receivedAt, bySchema), message);
  if (admission.accepted) {
    const kept = withReceipt(line, receivedAt);
    return {
      messageId,
      unit: admission.unit,
      fact: { line: kept, ...factKey(kept) },
    };
  }
  const { reason, detail } = admission;
  return {
    messageId,
    quarantined: { companyId, sender: unitId ?? companyId, receivedAt, reason, detail, raw: line },
  };
}

/** Schemas are loaded with the first line that they are needed for: most lines fit a form. */
async function bySchema(...event: Parameters<typeof admitBySchema>): Promise<Admission> {
  const { admitBySchema } = await import('../shared/admission.ts');
  return admitBySchema(...event);
}

/** Events of the service itself: a company may send its own back from a backup, a meter has none of them. */
const SERVICE_TYPES: ReadonlySet<unknown> = new Set<EventType>([
  'brinebell.alert-act.v1',
  'brinebell.question.v1',
]);

/** A meter speaks for itself alone, and of what meters know. */
function ofSender(admission: Admission, { unitId: sender, onTopicOf, line }: Received): Admission {
  if (sender === null) return admission;
  if (onTopicOf !== undefined && yieldsTo(admission, 'not-an-event')) {
    return foreign(`topic: is that of ${JSON.stringify(onTopicOf)} and not of its sender, ${sender}`);
  }
  if (admission.accepted && admission.unit.unitId !== sender) {
    return foreign(`source: is not that of its sender, ${sender}`);
  }
  if (isOfService(admission, line)) {
    return { accepted: false, reason: 'unknown-type', detail: 'no type of event that a meter sends' };
  }
  return admission;
}

function foreign(detail: string): Admission {
  return { accepted: false, reason: 'not-an-event', detail };
}

/** Whether a line is an event of the service, unless it was refused for a reason that goes before its type. */
function isOfService(admission: Admission, line: string): boolean {
  if (admission.accepted) return admission.fact.kind === 'alert-act' || admission.fact.kind === 'question';
  return yieldsTo(admission, 'unknown-type') && SERVICE_TYPES.has(JSON.parse(line).type);
}

/** Whether a reason to refuse a line goes before what it was found to be. */
function yieldsTo(admission: Admission, reason: QuarantineReason): boolean {
  if (admission.accepted) return true;
  return QUARANTINE_REASONS.indexOf(admission.reason) > QUARANTINE_REASONS.indexOf(reason);
}

/** The unit that a line says it is of; whether that is so is judged later. */
export function unitNamedIn(line: string): string | undefined {
  try {
    const source: unknown = JSON.parse(line)?.source;
    return typeof source === 'string' && SOURCE.test(source) ? partsOfSource(source).unitId : undefined;
  } catch {
    return undefined;
  }
}
