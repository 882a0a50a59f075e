import { formatLocalDate } from '../../../shared/time/localDate.ts';
import type { Question } from '../question.ts';
import { septetsOf, toGsm } from './gsm.ts';
import { oneLine } from './oneLine.ts';

/** What one short message holds, septets. */
const MESSAGE = 160;

/** A mail to a household: a subject of one line, and a plain text. */
export function questionMail({ companyName, since, link }: Question): { subject: string; text: string } {
  const paragraphs = [
    `The meter in your water softener has counted no water since ${formatLocalDate(since)}.`,
    'Are you away? Then all is well. If you are at home and use water, the meter has stopped and the water will turn hard.',
    `Please tell us with one tap: ${link}`,
    'The page asks for nothing else: no name, no password. If you would rather not answer, do nothing.',
    oneLine(companyName),
  ];
  return {
    subject: oneLine(`${companyName}: are you away, or is the meter in your softener stuck?`),
    text: `${paragraphs.join('\n\n')}\n`,
  };
}

/** The same as a short message in the GSM alphabet, shorter where the link is long; the link is never cut. */
export function questionSms({ companyName, since, link }: Question): string {
  const name = toGsm(oneLine(companyName));
  const long = `${name}: your softener's meter has counted no water since ${formatLocalDate(since)}. Are you away, or at home? One tap: `;
  const short = "Your softener's meter counts no water. Away or at home? ";
  const end = toGsm(link);
  const room = MESSAGE - septetsOf(end);
  return `${septetsOf(long) <= room ? long : short}${end}`;
}
