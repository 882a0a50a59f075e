import type { Notice } from '../notice.ts';
import { adviceOf } from './advice.ts';
import { septetsOf, toGsm } from './gsm.ts';
import { shortSentenceOf } from './sentence.ts';

/** What one message holds, septets. */
const MESSAGE = 160;
/** The sentence is not cut below this, septets: less would say nothing. */
const LEAST = 50;
const CUT = '...';

/**
 * A short message of a notice, in the GSM alphabet: the sentence, what to do next in a few words, the link. It is one
 * message unless the link takes over 109 septets of it. The link is never cut; where there is too little room the
 * sentence is, and before it falls below 50 septets what to do next is left out.
 */
export function smsText(notice: Notice): string {
  const link = toGsm(notice.link);
  const sentence = toGsm(shortSentenceOf(notice));
  const brief = toGsm(adviceOf(notice).brief);
  const room = MESSAGE - septetsOf(link) - 1;
  const beside = room - septetsOf(brief) - 1;
  if (beside >= LEAST) return `${cut(sentence, beside)} ${brief} ${link}`;
  return `${cut(sentence, Math.max(room, LEAST))} ${link}`;
}

/** A text of at most so many septets, cut between words where there are some. */
export function cut(text: string, septets: number): string {
  if (septetsOf(text) <= septets) return text;
  let end = 0;
  let used = septetsOf(CUT);
  for (const character of text) {
    used += septetsOf(character);
    if (used > septets) break;
    end += character.length;
  }
  const space = text.lastIndexOf(' ', end);
  return `${text.slice(0, space > 0 ? space : end)}${CUT}`;
}
