import type { Transition } from '../lib/live/transitions.ts';
import type { StoredFact, UnitRef, Visit } from '../lib/store/store.ts';
import type { Instant } from '../shared/time/instant.ts';
import type { ReceivedMessage, TouchedMessage } from './messages.ts';
import type { NoticeMessage, VisitNoticeMessage } from './noticeMessages.ts';
import type { Outgoing } from './ports.ts';

/** A line for the queue `ingest`. */
export function received(message: ReceivedMessage): Outgoing {
  return { body: JSON.stringify(message) };
}

/** For the queue `assess`: facts of a unit have been stored. */
export function touchedBy(
  { companyId, unitId }: UnitRef,
  facts: readonly (StoredFact & { readonly id: string })[],
): Outgoing {
  const message: TouchedMessage = { companyId, unitId, facts: facts.map(({ id, key }) => ({ id, key })) };
  return { body: JSON.stringify(message), group: `${companyId}/${unitId}` };
}

/** For the queue `assess`: it has become noon at a unit's site; look at it, though no fact has come. */
export function clockStruck({ companyId, unitId }: UnitRef, noon: Instant): Outgoing {
  const message: TouchedMessage = { companyId, unitId, facts: [], noon };
  return { body: JSON.stringify(message), group: `${companyId}/${unitId}` };
}

/** For the queue `assess`: the unit's record or its company's rules have changed. */
export function changed({ companyId, unitId }: UnitRef): Outgoing {
  const message: TouchedMessage = { companyId, unitId, facts: [], changed: true };
  return { body: JSON.stringify(message), group: `${companyId}/${unitId}` };
}

/** For the queue `notify`: the technician of a visit is to be told of it. */
export function visitNotice(
  { companyId, unitId }: UnitRef,
  { visitId, date }: Pick<Visit, 'visitId' | 'date'>,
  occasion: VisitNoticeMessage['occasion'],
): Outgoing {
  const message: VisitNoticeMessage = { about: 'visit', companyId, unitId, visitId, date, occasion };
  return { body: JSON.stringify(message) };
}

/** Changes that one version of a head tells of, at most. */
const MOST_CHANGES = 1e6;

/** For the queue `notify`: the changes that a version of a unit's head tells of, in their order. */
export function notices(
  { companyId, unitId }: UnitRef,
  version: number,
  transitions: readonly Transition[],
): Outgoing[] {
  return transitions.map((transition, index) => {
    const sequence = version * MOST_CHANGES + index;
    const message: NoticeMessage = { companyId, unitId, ...transition, sequence };
    return { body: JSON.stringify(message) };
  });
}
