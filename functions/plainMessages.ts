import { CHANGES } from '../lib/live/transitions.ts';
import type { TrialOrder } from '../lib/trial/plan.ts';
import { isTrialId } from '../lib/trial/trialId.ts';
import { ALERT_KINDS, CAUSES, SEVERITIES } from '../shared/alerts.ts';
import { isId } from '../shared/idForm.ts';
import { parseInstant } from '../shared/time/instant.ts';
import type { ReceivedMessage, StoredMessage, TouchedMessage } from './messages.ts';
import type { NoticeMessage, VisitNoticeMessage } from './noticeMessages.ts';

/**
 * Messages that our own functions and the broker send, read without schemas: to load and make those takes a fifth of
 * what a bare function's whole start does. A property holds both to one verdict.
 */

/** Thrown where a message is none of ours. */
export class MessageError extends Error {
  readonly code = 'message-invalid';
}

const ALL_CAUSES = Object.values(CAUSES).flat();

/** @throws MessageError where it is none that we sent ourselves */
export function readReceived(message: unknown): ReceivedMessage {
  const { companyId, unitId, receivedAt, line, onTopicOf } = membersOf(message);
  return {
    companyId: id(companyId, 'companyId'),
    unitId: unitId === null ? null : id(unitId, 'unitId'),
    receivedAt: whole(receivedAt, 'receivedAt'),
    line: text(line, 'line'),
    ...(onTopicOf !== undefined && { onTopicOf: text(onTopicOf, 'onTopicOf') }),
  };
}

/** What a meter published through AWS IoT Core, and who the broker says it is. */
export interface PublishedMessage {
  /** In base64, since it may be no JSON. */
  readonly payload: string;
  /** The client id, which the policy of meters lets be nothing but the name of the thing. */
  readonly thing: string;
  /** The unit in the topic, its second segment. */
  readonly topicOf: string;
  readonly receivedAt: number;
}

/**
 * What the rule sends (infra/aws/stacks/meterRule.ts); or what it leaves where its action has failed, put into the queue
 * `ingest` by the operator. When that was received is not in it: the nearest that is known is when the queue was given it.
 *
 * Source of the members: AWS IoT Core, Developer Guide, "Error handling (error action)", "Error action message format".
 *
 * @param sentAt when the queue was given the message
 * @throws MessageError
 */
export function readPublished(message: unknown, sentAt: number): PublishedMessage {
  const members = membersOf(message);
  if (!('base64OriginalPayload' in members)) {
    const { data, thing, unitId, receivedAt } = members;
    return {
      payload: base64(data, 'data'),
      thing: text(thing, 'thing'),
      topicOf: text(unitId, 'unitId'),
      receivedAt: whole(receivedAt, 'receivedAt'),
    };
  }
  const { base64OriginalPayload, clientId, topic } = members;
  const [, topicOf] = /^units\/([^/]+)\/events$/.exec(text(topic, 'topic')) ?? [];
  return {
    payload: base64(base64OriginalPayload, 'base64OriginalPayload'),
    thing: text(clientId, 'clientId'),
    topicOf: text(topicOf, 'the unit of the topic'),
    receivedAt: whole(sentAt, 'sentAt'),
  };
}

/** @throws MessageError, SyntaxError */
export function readTouched(body: string): TouchedMessage {
  const { companyId, unitId, facts, noon, changed } = membersOf(JSON.parse(body));
  return {
    companyId: id(companyId, 'companyId'),
    unitId: id(unitId, 'unitId'),
    facts: list(facts, 'facts').map((each) => {
      const fact = membersOf(each);
      return { id: text(fact.id, 'id'), key: text(fact.key, 'key') };
    }),
    ...(noon !== undefined && { noon: whole(noon, 'noon') }),
    ...(changed !== undefined && { changed: yesOrNo(changed, 'changed') }),
  };
}

/** @throws MessageError, SyntaxError */
export function readStored(body: string): StoredMessage {
  const { companyId, units } = membersOf(JSON.parse(body));
  return {
    companyId: id(companyId, 'companyId'),
    units: list(units, 'units').map((each) => {
      const { unitId, region, timeZone, lines } = membersOf(each);
      return {
        unitId: id(unitId, 'unitId'),
        region: id(region, 'region'),
        timeZone: text(timeZone, 'timeZone'),
        lines: list(lines, 'lines').map((line) => text(line, 'lines')),
      };
    }),
  };
}

/**
 * Those of visits are rare, and are read by their schema.
 *
 * @throws MessageError, SyntaxError, ZodError
 */
export async function readNotice(body: string): Promise<NoticeMessage | VisitNoticeMessage> {
  const message = membersOf(JSON.parse(body));
  const { about } = message;
  if (about === 'visit') {
    const { visitNoticeSchema } = await import('./noticeMessages.ts');
    return visitNoticeSchema.parse(message);
  }
  if (about !== undefined && about !== 'alert') throw wrong('it is about neither an alert nor a visit');
  return {
    ...(about !== undefined && { about }),
    companyId: id(message.companyId, 'companyId'),
    unitId: id(message.unitId, 'unitId'),
    key: text(message.key, 'key'),
    change: oneOf(CHANGES, message.change, 'change'),
    at: whole(message.at, 'at'),
    alertId: text(message.alertId, 'alertId'),
    alert: alertOf(membersOf(message.alert)),
    sequence: whole(message.sequence, 'sequence'),
  };
}

/**
 * What the workflow of a trial is begun with. What is in its rules is left to their own schema.
 *
 * @throws MessageError
 */
export function readTrialOrder(order: unknown): TrialOrder {
  const { companyId, trialId, rules } = membersOf(order);
  return {
    companyId: id(companyId, 'companyId'),
    trialId: trial(trialId, 'trialId'),
    rules: { ...membersOf(rules) },
  };
}

function alertOf(alert: Members): NoticeMessage['alert'] {
  const history = list(alert.history, 'history').map((each) => {
    const { at, severity, probability } = membersOf(each);
    return {
      at: instant(at, 'at'),
      severity: oneOf(SEVERITIES, severity, 'severity'),
      probability: share(probability, 'probability'),
    };
  });
  const summary = text(alert.summary, 'summary');
  if (history.length === 0 || summary === '')
    throw wrong('an alert without a history, or of which nothing is said');
  return {
    unitId: id(alert.unitId, 'unitId'),
    kind: oneOf(ALERT_KINDS, alert.kind, 'kind'),
    cause: alert.cause === null ? null : oneOf(ALL_CAUSES, alert.cause, 'cause'),
    severity: oneOf(SEVERITIES, alert.severity, 'severity'),
    raisedAt: instant(alert.raisedAt, 'raisedAt'),
    clearedAt: alert.clearedAt === null ? null : instant(alert.clearedAt, 'clearedAt'),
    probability: share(alert.probability, 'probability'),
    history,
    summary,
    evidence: { ...membersOf(alert.evidence) },
  };
}

type Members = Readonly<Record<string, unknown>>;

function membersOf(value: unknown): Members {
  if (!isRecord(value)) throw wrong('something is no object');
  return value;
}

function isRecord(value: unknown): value is Members {
  return typeof value === 'object' && value !== null && !Array.isArray(value);
}

function list(value: unknown, name: string): readonly unknown[] {
  if (!Array.isArray(value)) throw wrong(`${name} is no list`);
  return value;
}

function text(value: unknown, name: string): string {
  if (typeof value !== 'string') throw wrong(`${name} is no text`);
  return value;
}

/** RFC 4648, section 4. */
function base64(value: unknown, name: string): string {
  const found = text(value, name);
  if (found.length % 4 !== 0 || !/^[A-Za-z0-9+/]*={0,2}$/.test(found)) throw wrong(`${name} is no base64`);
  return found;
}

function id(value: unknown, name: string): string {
  const found = text(value, name);
  if (!isId(found)) throw wrong(`${name} is no id`);
  return found;
}

function trial(value: unknown, name: string): string {
  const found = text(value, name);
  if (!isTrialId(found)) throw wrong(`${name} is no number of a trial`);
  return found;
}

function instant(value: unknown, name: string): string {
  const found = text(value, name);
  if (parseInstant(found) === undefined) throw wrong(`${name} is no time`);
  return found;
}

function whole(value: unknown, name: string): number {
  if (typeof value !== 'number' || !Number.isSafeInteger(value)) throw wrong(`${name} is no whole number`);
  return value;
}

function share(value: unknown, name: string): number {
  if (typeof value !== 'number' || !(value >= 0 && value <= 1)) throw wrong(`${name} is not from 0 to 1`);
  return value;
}

function yesOrNo(value: unknown, name: string): boolean {
  if (typeof value !== 'boolean') throw wrong(`${name} is neither true nor false`);
  return value;
}

function oneOf<Word extends string>(words: readonly Word[], value: unknown, name: string): Word {
  const found = words.find((word) => word === value);
  if (found === undefined) throw wrong(`${name} is none of ${words.join(', ')}`);
  return found;
}

function wrong(what: string): MessageError {
  return new MessageError(`the message is none of ours: ${what}`);
}
