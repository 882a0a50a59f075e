import { htmlOf } from '../lib/brief/html.ts';
import { paperFor } from '../lib/brief/paper.ts';
import { sheetOf } from '../lib/brief/sheet.ts';
import { textOf } from '../lib/brief/text.ts';
import type { Carriers } from '../lib/channels/carrier.ts';
import { identityOf, type MailDestination, type SmsDestination } from '../lib/channels/destination.ts';
import { messageIdOf } from '../lib/channels/messageId.ts';
import type { VisitNotice } from '../lib/channels/visitNotice.ts';
import type { Person } from '../lib/store/person.ts';
import type { Visit } from '../lib/store/store.ts';
import type { UnitRecord } from '../shared/registry.ts';
import { formatLocalDate } from '../shared/time/localDate.ts';
import { toUnit } from '../shared/toUnit.ts';
import type { VisitNoticeMessage } from './noticeMessages.ts';
import type { Ports } from './ports.ts';
import { visitBrief } from './visitBrief.ts';

export interface TellOptions {
  readonly carriers: Carriers;
  /** Where the console stands. */
  readonly baseUrl: URL;
}

/** A way to a technician. */
interface Way {
  readonly to: MailDestination | SmsDestination;
  send(notice: VisitNotice, id: string, withinMs: number): Promise<void>;
}

/**
 * Tells the technician of a visit what to know of it: by mail with the brief, and in a short message where they take
 * some. Nothing is told of a visit that has been dropped or moved meanwhile, or whose day is over; nor of a morning that
 * is no longer today's.
 *
 * @param once does something once for a key, however often the message comes
 * @throws what the first way threw that failed, once all have been tried
 */
export async function tellTechnician(
  ports: Pick<Ports, 'store' | 'now' | 'meter' | 'log'>,
  { carriers, baseUrl }: TellOptions,
  message: VisitNoticeMessage,
  once: (key: string, send: () => Promise<void>) => Promise<void>,
  withinMs: () => number,
): Promise<void> {
  const { store, meter, log } = ports;
  const { companyId, unitId, visitId, occasion } = message;
  const ref = { companyId, unitId };
  const [{ record }, visits] = await Promise.all([store.unit(ref, { fresh: false }), store.visits(ref)]);
  const visit = visits.find((each) => each.visitId === visitId);
  const names = { companyId, unitId, visitId, occasion };
  if (!record || !visit || !isStillToCome(visit, record, message, ports)) {
    log.info('a visit that is not told of any more', names);
    return;
  }
  const person = (await store.people(companyId)).find(({ personId }) => personId === visit.technician);
  if (!person) {
    log.warn('a visit by nobody on record: add them to the people', {
      ...names,
      technician: visit.technician,
    });
    return;
  }
  let making: Promise<VisitNotice> | undefined;
  const outcomes = await Promise.allSettled(
    waysTo(person, carriers).map(async ({ to, send }) => {
      const key = `${companyId}/${unitId}/visit-${visitId}/${visit.date}-${occasion}/${identityOf(to)}`;
      await once(key, async () => {
        making ??= noticeOf(ports, baseUrl, { record, visit, person, occasion });
        try {
          await send(await making, messageIdOf(key), withinMs());
        } catch (error) {
          meter.count('notices_failed', 1, { channel: to.type });
          throw error;
        }
        meter.count('notices_sent', 1, { channel: to.type });
      });
    }),
  );
  const failed = outcomes.find((outcome) => outcome.status === 'rejected');
  if (failed) throw failed.reason;
}

function isStillToCome(
  visit: Visit,
  record: UnitRecord,
  { date, occasion }: VisitNoticeMessage,
  { now }: Pick<Ports, 'now'>,
): boolean {
  const today = formatLocalDate(toUnit(record).zone.dateAt(now()));
  return visit.date === date && (occasion === 'morning' ? today === date : today <= date);
}

function waysTo({ mail: address, sms: number }: Person, { mail, sms }: Carriers): Way[] {
  const ways: Way[] = [];
  if (mail) {
    const to = { type: 'mail', to: address } as const;
    ways.push({ to, send: (notice, id, withinMs) => mail.send(notice, to, id, withinMs) });
  }
  if (sms && number !== undefined) {
    const to = { type: 'sms', to: number } as const;
    ways.push({ to, send: (notice, id, withinMs) => sms.send(notice, to, id, withinMs) });
  }
  return ways;
}

async function noticeOf(
  ports: Pick<Ports, 'store' | 'now'>,
  baseUrl: URL,
  about: {
    record: UnitRecord;
    visit: Visit;
    person: Person;
    occasion: VisitNotice['occasion'];
  },
): Promise<VisitNotice> {
  const { record, visit, person, occasion } = about;
  const { companyId, unitId, siteId } = record;
  const brief = await visitBrief(ports, { ref: { companyId, unitId }, record, visit });
  const sheet = sheetOf(brief, person.units);
  const link = linkTo(baseUrl, unitId);
  // Only now: with its fonts it is as much as all the rest.
  const { pdfOf } = await import('../lib/brief/pdf/pdf.ts');
  return {
    ...{ occasion, siteId, link, date: visit.date, place: sheet.place, about: visit.reason },
    text: textOf(sheet, link),
    html: htmlOf(brief, person.units),
    pdf: await pdfOf(brief, { system: person.units, paper: paperFor(person.locale) }),
  };
}

function linkTo(baseUrl: URL, unitId: string): string {
  const base = baseUrl.href.endsWith('/') ? baseUrl.href : `${baseUrl.href}/`;
  return `${base}units/${encodeURIComponent(unitId)}/brief`;
}
