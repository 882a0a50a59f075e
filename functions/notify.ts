import type { Context, SQSBatchItemFailure, SQSBatchResponse, SQSEvent, SQSRecord } from 'aws-lambda';
import type { FleetEvent } from '../lib/alarms/fleetEvent.ts';
import { anyOf, type Carriers, type Told } from '../lib/channels/carrier.ts';
import { type Destination, destinationsOf, identityOf } from '../lib/channels/destination.ts';
import { ChannelError } from '../lib/channels/errors.ts';
import type { FleetNotice } from '../lib/channels/fleetNotice.ts';
import { messageIdOf } from '../lib/channels/messageId.ts';
import { linkTo, type Notice } from '../lib/channels/notice.ts';
import type { Company } from '../lib/store/company.ts';
import type { UnitRecord } from '../shared/registry.ts';
import type { Instant } from '../shared/time/instant.ts';
import { askHousehold, asksHousehold } from './askHousehold.ts';
import type { NoticeMessage } from './noticeMessages.ts';
import { readNotice } from './plainMessages.ts';
import type { Ports } from './ports.ts';
import { isBeingSent, type SentNotices } from './sentNotices.ts';
import { HeldError, holdBack, Silence } from './silence.ts';

export interface NotifyOptions {
  /** What notices are sent with; a channel without a carrier fails for good. */
  readonly carriers: Carriers;
  /** Remembers what has been sent. */
  readonly sent: SentNotices;
  /** Where the console stands; links begin with it. */
  readonly baseUrl: URL;
  /** Signs the links by which households answer; asked for whenever it is needed. */
  readonly answerSecret: () => Promise<string>;
}

/** Thrown where a notice has not come to all of its destinations; the log says why. */
class UndeliveredError extends Error {
  readonly code = 'undelivered';
}

/** Left of an invocation's time to write down what has been sent, milliseconds. */
const RECORDING_MS = 1_500;

/**
 * Tells a company's channels of changes of alerts, and technicians of their visits, each destination once. A message is reported as failed until all of
 * its destinations have been told; those that have are not told again. Only what is cut off between sending and
 * writing it down is sent twice, under the same id.
 */
export function notify(
  ports: Pick<Ports, 'store' | 'now' | 'queues' | 'meter' | 'log'>,
  { carriers, sent, baseUrl, answerSecret }: NotifyOptions,
): (event: SQSEvent, context: Context) => Promise<SQSBatchResponse> {
  const { store, meter, log } = ports;
  const carrier = anyOf(carriers);
  const silence = new Silence(store);

  /** The company to tell, unless it does not want to hear of this alert for now. */
  async function listener(message: NoticeMessage, sentAt: Instant): Promise<Company | undefined> {
    const { companyId, unitId, alertId, key } = message;
    const company = await store.company(companyId);
    if (!company) log.warn('a notice of a company that is not on record', { companyId, unitId, key });
    // Before more is read for it; where nobody is to be told, it need not wait.
    if (company && company.channels.length > 0) holdBack(message, sentAt, ports.now());
    const stored = await store.alert(message, alertId);
    if ((stored?.shelved?.until ?? 0) <= ports.now()) return company;
    log.info('a notice of a shelved alert', { companyId, unitId, key });
    meter.count('notices_shelved', 1);
    return undefined;
  }

  function noticeOf(
    message: NoticeMessage,
    { companyId, name }: Company,
    record: UnitRecord | undefined,
  ): Notice {
    const link = linkTo(baseUrl, message.unitId, message.alertId);
    const company = { companyId, name };
    return { ...message, company, link, siteId: record?.siteId, region: record?.region };
  }

  function fleetNoticeOf(event: FleetEvent, { companyId, name }: Company): FleetNotice {
    return { company: { companyId, name }, event, link: new URL('alerts', baseUrl).href };
  }

  async function send(told: Told, to: Destination, id: string, withinMs: number): Promise<void> {
    const labels = { channel: to.type };
    try {
      await carrier.send(told, to, id, withinMs);
    } catch (error) {
      meter.count('notices_failed', 1, labels);
      const failure = error instanceof ChannelError ? error : undefined;
      log[failure?.permanent ? 'error' : 'warn']('a notice was not taken', {
        ...labels,
        id,
        ...namesOf(told),
        code: failure?.code,
        error: reasonOf(error),
      });
      throw error;
    }
    meter.count('notices_sent', 1, labels);
  }

  async function tell({ body, attributes }: SQSRecord, context: Context): Promise<void> {
    const message = await readNotice(body);
    const once = sent.onceFor(context);
    const withinMs = () => Math.max(0, context.getRemainingTimeInMillis() - RECORDING_MS);
    if (message.about === 'visit') {
      // Only now: a brief takes all that is known of units along, and most notices are not of visits.
      const { tellTechnician } = await import('./tellTechnician.ts');
      await tellTechnician(ports, { carriers, baseUrl }, message, once, withinMs);
      return;
    }
    const sentAt = Number(attributes.SentTimestamp);
    const company = await listener(message, sentAt);
    if (!company) return;
    const { record } = await store.unit(message, { fresh: false });
    const isAsked =
      record !== undefined &&
      asksHousehold(message) &&
      (await store.alert(message, message.alertId))?.alert.clearedAt === null &&
      (await askHousehold(
        ports,
        { carriers, baseUrl, answerSecret },
        { message, record, company },
        once,
        withinMs,
      ));
    // While the household is asked there is nothing for people to do; a machine may count on hearing all.
    const destinations = destinationsOf(company.channels).filter(
      ({ type }) => !isAsked || type === 'webhook',
    );
    if (destinations.length === 0) return;
    if (message.alert.kind === 'silent-unit' && !(await silence.isNews(message))) {
      log.info('silence that was over before anybody was told of it', namesOf(message));
      return;
    }
    const event = await silence.eventOf(message, sentAt, ports.now());
    // One of many that fell silent together is told of with them, once.
    const told = event ? fleetNoticeOf(event, company) : noticeOf(message, company, record);
    // Told, withdrawn and told again, a change has the same key, and is news each time.
    const name = event ? event.key : `${message.unitId}/${message.key}/${message.sequence}`;
    const outcomes = await Promise.allSettled(
      destinations.map(async (to) => {
        const key = `${company.companyId}/${name}/${identityOf(to)}`;
        await once(key, async () => {
          await send(told, to, messageIdOf(key), withinMs());
        });
      }),
    );
    const failures = outcomes.flatMap((outcome) => (outcome.status === 'rejected' ? [outcome.reason] : []));
    if (failures.length === 0) return;
    throw new UndeliveredError(`not told: ${failures.map(reasonOf).join('; ')}`);
  }

  return async ({ Records }, context) => {
    const handle = async (record: SQSRecord): Promise<SQSBatchItemFailure[]> => {
      try {
        await tell(record, context);
        return [];
      } catch (error) {
        log[error instanceof HeldError ? 'debug' : 'warn']('a notice comes back', {
          messageId: record.messageId,
          error: reasonOf(error),
        });
        return [{ itemIdentifier: record.messageId }];
      }
    };
    return { batchItemFailures: (await Promise.all(Records.map(handle))).flat() };
  };
}

function namesOf(told: Told | Pick<Notice, 'unitId' | 'key'>): Record<string, string> {
  return 'event' in told ? { key: told.event.key } : { unitId: told.unitId, key: told.key };
}

/** What went wrong, and below it why; what another invocation is sending meanwhile is nothing that went wrong. */
function reasonOf(error: unknown): string {
  if (isBeingSent(error)) return 'it is being sent, or was cut off a moment ago';
  if (!(error instanceof Error)) return String(error);
  const { cause } = error;
  const isTold = !(cause instanceof Error) || error.message.includes(cause.message);
  return isTold ? error.message : `${error.message}: ${cause.message}`;
}
