import type { Carriers } from '../lib/channels/carrier.ts';
import type { MailDestination, SmsDestination } from '../lib/channels/destination.ts';
import { identityOf } from '../lib/channels/destination.ts';
import { ChannelError } from '../lib/channels/errors.ts';
import { messageIdOf } from '../lib/channels/messageId.ts';
import type { Question } from '../lib/channels/question.ts';
import type { Company } from '../lib/store/company.ts';
import type { UnitRecord } from '../shared/registry.ts';
import { formatInstant } from '../shared/time/instant.ts';
import { parseLocalDate } from '../shared/time/localDate.ts';
import { answerToken } from './answerToken.ts';
import type { NoticeMessage } from './noticeMessages.ts';
import type { Ports } from './ports.ts';
import { received } from './send.ts';

const DAY = 86_400_000;
/** Longer than all but a few absences; an answer after that is about another story. */
const ANSWERABLE_DAYS = 60;

export interface AskOptions {
  readonly carriers: Carriers;
  /** Where the service is reached by people; the page that answers stands there. */
  readonly baseUrl: URL;
  /** Signs the links by which households answer; asked for whenever it is needed. */
  readonly answerSecret: () => Promise<string>;
}

/** Whether a change of an alert is one about which the household is asked before anybody is sent. */
export function asksHousehold({ change, alert }: NoticeMessage): boolean {
  return alert.kind === 'no-flow' && alert.severity === 'routine' && change === 'raised';
}

/**
 * Asks the household of a unit whether it is away, by each way in which it can be reached, and notes that it was asked.
 * Returns whether it was: false where no way to it is on record or set up, or where each refuses for good.
 *
 * @param once does something once for a key, however often the notice comes
 * @throws ChannelError where it may be reached later
 */
export async function askHousehold(
  { now, queues }: Pick<Ports, 'now' | 'queues'>,
  { carriers, baseUrl, answerSecret }: AskOptions,
  asked: { message: NoticeMessage; record: UnitRecord; company: Company },
  once: (key: string, send: () => Promise<void>) => Promise<void>,
  withinMs: () => number,
): Promise<boolean> {
  const { message, record, company } = asked;
  const { companyId, unitId, alertId } = message;
  const since = parseLocalDate(String(message.alert.evidence.zeroDaysFrom));
  const ways = waysTo(record, carriers);
  if (since === undefined || ways.length === 0) return false;
  const until = Math.floor(message.at / DAY) + ANSWERABLE_DAYS;
  const token = answerToken({ companyId, unitId, since, until }, await answerSecret());
  const question: Question = { companyName: company.name, since, link: linkTo(baseUrl, token) };
  const outcomes = await Promise.allSettled(
    ways.map(async ({ to, send }) => {
      const key = `${companyId}/${unitId}/${alertId}/question/${identityOf(to)}`;
      await once(key, () => send(question, messageIdOf(key), withinMs()));
    }),
  );
  if (outcomes.some(({ status }) => status === 'fulfilled')) {
    await queues.ingest.send([received(noteOf(message, now()))]);
    return true;
  }
  const failures = outcomes.flatMap((outcome) => (outcome.status === 'rejected' ? [outcome.reason] : []));
  const passing = failures.find((failure) => !(failure instanceof ChannelError && failure.permanent));
  if (passing) throw passing;
  return false;
}

function waysTo({ household }: UnitRecord, { mail, sms }: Carriers) {
  const ways: {
    to: MailDestination | SmsDestination;
    send: (question: Question, id: string, withinMs: number) => Promise<void>;
  }[] = [];
  if (mail && household?.mail !== undefined) {
    const to = { type: 'mail', to: household.mail } as const;
    ways.push({ to, send: (question, id, withinMs) => mail.send(question, to, id, withinMs) });
  }
  if (sms && household?.sms !== undefined) {
    const to = { type: 'sms', to: household.sms } as const;
    ways.push({ to, send: (question, id, withinMs) => sms.send(question, to, id, withinMs) });
  }
  return ways;
}

/** The event that tells that the household was asked: the same for the same alert, however often it is written. */
function noteOf({ companyId, unitId, alertId, at }: NoticeMessage, receivedAt: number) {
  const line = JSON.stringify({
    specversion: '1.0',
    id: `asked-${alertId}`,
    source: `/companies/${companyId}/units/${unitId}`,
    type: 'brinebell.question.v1',
    time: formatInstant(at),
    data: { step: 'asked' },
  });
  return { companyId, unitId: null, receivedAt, line };
}

function linkTo(baseUrl: URL, token: string): string {
  const base = baseUrl.href.endsWith('/') ? baseUrl.href : `${baseUrl.href}/`;
  return `${base}answer/${token}`;
}
