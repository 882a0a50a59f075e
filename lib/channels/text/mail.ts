import type { Notice } from '../notice.ts';
import { adviceOf, CAUTION } from './advice.ts';
import { checkLines } from './checks.ts';
import { oneLine } from './oneLine.ts';
import { headlineOf, sentenceOf } from './sentence.ts';

/** A mail of a notice: a subject of one line, and a plain text. */
export function mailText(notice: Notice): { subject: string; text: string } {
  const { next, handsInside } = adviceOf(notice);
  const checks = checkLines(notice);
  const { company, region, link } = notice;
  const paragraphs = [
    sentenceOf(notice),
    `What to do next: ${next}`,
    ...(checks.length > 0 ? [`On the spot, in this order:\n${checks.join('\n')}`] : []),
    ...(handsInside || checks.length > 0 ? [CAUTION] : []),
    link,
    oneLine(`For ${company.name}${region === undefined ? '' : `, region ${region}`}.`),
  ];
  return { subject: headlineOf(notice), text: `${paragraphs.join('\n\n')}\n` };
}
