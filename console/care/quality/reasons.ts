import type { QuarantineReason } from '../../../shared/quarantine.ts';

interface ReasonWords {
  readonly label: string;
  /** What mends it. */
  readonly mend: string;
}

/** Why a message was set aside, and what to do about it. */
export const REASON_WORDS: Readonly<Record<QuarantineReason, ReasonWords>> = {
  'unknown-unit': {
    label: 'Unit is not in the registry',
    mend: 'Add the unit to the registry, then send again.',
  },
  'wrong-company': {
    label: 'Unit of another company',
    mend: 'Set the address in the meter right, or move the unit, then send again.',
  },
  'invalid-data': {
    label: 'Data does not fit its type',
    mend: 'Mend what makes the reports at the meter; old ones stay as they are.',
  },
  'unknown-type': {
    label: 'Type of report is not known',
    mend: 'After an update that knows the type, send again.',
  },
  'in-the-future': {
    label: 'Dated in the future',
    mend: 'Set the meter’s clock right. Once that time has passed they can be sent again.',
  },
  'conflicting-duplicate': {
    label: 'Same report twice, and they differ',
    mend: 'The one recorded first stands. If the other is right, have the meter send a correction.',
  },
  'not-json': {
    label: 'Cannot be read',
    mend: 'It was cut short or garbled on the way: look at the gateway.',
  },
  'not-an-event': { label: 'Is no report', mend: 'Look at what the meter or gateway sends.' },
  'too-large': { label: 'Too large', mend: 'A report has at most 64 KiB: send it in parts.' },
};

/** @returns undefined for what is no reason */
export function reasonNamed(value: string): QuarantineReason | undefined {
  return isReason(value) ? value : undefined;
}

function isReason(value: string): value is QuarantineReason {
  return Object.hasOwn(REASON_WORDS, value);
}
