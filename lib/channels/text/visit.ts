import { dated } from '../../brief/dated.ts';
import type { VisitNotice } from '../visitNotice.ts';
import { septetsOf, toGsm } from './gsm.ts';
import { oneLine } from './oneLine.ts';
import { cut } from './sms.ts';

/** What one message holds, septets; and what is left at least to say what it is about. */
const MESSAGE = 160;
const LEAST = 40;

const WHEN: Readonly<Record<VisitNotice['occasion'], string>> = {
  planned: 'Planned visit',
  morning: 'Visit today',
};

/** A subject of one line for the mail that brings the brief. */
export function visitSubject({ occasion, date, place }: VisitNotice): string {
  return oneLine(`${WHEN[occasion]}, ${dated(date)}: ${place}`);
}

/**
 * One sentence and the link, in the GSM alphabet; the link is never cut. A place whose name that alphabet cannot write
 * is called by its id.
 */
export function visitSms({ occasion, date, place, siteId, about, link }: VisitNotice): string {
  const where = toGsm(place).includes('?') ? `site ${siteId}` : toGsm(oneLine(place));
  const end = toGsm(link);
  const room = Math.max(LEAST, MESSAGE - septetsOf(end) - 1);
  return `${cut(`${WHEN[occasion]}, ${dated(date)}, ${where}: ${toGsm(oneLine(about))}`, room)} ${end}`;
}
