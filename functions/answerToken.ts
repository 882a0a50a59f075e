import { createHmac, timingSafeEqual } from 'node:crypto';
import type { UnitRef } from '../lib/store/store.ts';
import type { LocalDate } from '../shared/time/localDate.ts';

/** What a household may answer to, and until when. */
export interface Asked extends UnitRef {
  /** The first local day on which nothing was registered. */
  readonly since: LocalDate;
  /** The last day, UTC, on which an answer is taken. */
  readonly until: LocalDate;
}

/** Stands between the parts: no id has it, and it needs no escape in an address. */
const SEPARATOR = '~';
/** Half of HMAC-SHA256, the least that RFC 2104, section 5, lets a truncation keep. */
const TAG_BYTES = 16;

/** Proves that whoever presents it was asked: no other unit can be answered for with it, and no other days. */
export function answerToken({ companyId, unitId, since, until }: Asked, secret: string): string {
  const words = [companyId, unitId, since.toString(36), until.toString(36)].join(SEPARATOR);
  return `${words}${SEPARATOR}${tagOf(words, secret).toString('base64url')}`;
}

/** What a token was made for; undefined for one that we did not make. */
export function readAnswerToken(token: string, secret: string): Asked | undefined {
  const [companyId = '', unitId = '', since = '', until = '', tag = '', ...more] = token.split(SEPARATOR);
  const given = Buffer.from(tag, 'base64url');
  const right = tagOf([companyId, unitId, since, until].join(SEPARATOR), secret);
  if (more.length > 0 || given.length !== right.length || !timingSafeEqual(given, right)) return undefined;
  return { companyId, unitId, since: Number.parseInt(since, 36), until: Number.parseInt(until, 36) };
}

function tagOf(words: string, secret: string): Buffer {
  return createHmac('sha256', secret).update(words).digest().subarray(0, TAG_BYTES);
}
