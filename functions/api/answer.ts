import * as z from 'zod';
import { formatLocalDate, type LocalDate, parseLocalDate } from '../../shared/time/localDate.ts';
import { toUnit } from '../../shared/toUnit.ts';
import { type Asked, readAnswerToken } from '../answerToken.ts';
import { overPage, PAGE_HEADERS, questionPage, thanksPage } from './answerPage.ts';
import type { Api } from './api.ts';
import { takeIn } from './body.ts';
import { state } from './state.ts';

const DAY = 86_400_000;
/** Nobody says today that he is away for longer. */
const LONGEST_AWAY_DAYS = 366;

const bodySchema = z.object({
  answer: z.enum(['at-home', 'away', 'not-sure']),
  /** The last day of the absence. */
  until: z.iso.date().optional(),
});

/**
 * The page on which a household answers, with one tap, whether it is away. Opening it does nothing, since mail programs
 * open links unasked; the answer becomes an event of the unit. The token in its address is all that lets one in. These
 * pages are for people and no part of the API's document.
 */
export function answerRoutes({ app, ports }: Api, answerSecret: () => Promise<string>): void {
  const known = async (token: string) => {
    const asked = readAnswerToken(token, await answerSecret());
    if (!asked || asked.until * DAY + DAY < ports.now()) return undefined;
    const [{ record }, company] = await Promise.all([
      ports.store.unit(asked, { fresh: false }),
      ports.store.company(asked.companyId),
    ]);
    if (!record || !company) return undefined;
    return { asked, company, today: toUnit(record).zone.dateAt(ports.now()) };
  };

  app.get('/answer/:token', async (c) => {
    const found = await known(c.req.param('token'));
    if (!found) return c.html(overPage(OUT_OF_DATE), 410, PAGE_HEADERS);
    const { asked, company, today } = found;
    const days = { since: asked.since, today, latest: today + LONGEST_AWAY_DAYS };
    return c.html(questionPage(company.name, days), 200, PAGE_HEADERS);
  });

  app.post('/answer/:token', async (c) => {
    await takeIn(c);
    const found = await known(c.req.param('token'));
    if (!found) return c.html(overPage(OUT_OF_DATE), 410, PAGE_HEADERS);
    const given = bodySchema.safeParse(await c.req.parseBody());
    const event = given.success ? eventOf(given.data, found) : undefined;
    if (!given.success || !event) return c.html(overPage(NO_DAY), 400, PAGE_HEADERS);
    await state(ports, found.asked, event.type, event.data);
    return c.html(thanksPage(found.company.name, given.data.answer), 200, PAGE_HEADERS);
  });
}

const OUT_OF_DATE =
  'The link is incomplete, or the question is long over. If your water is hard, call your softener company.';
const NO_DAY = 'Say until which day you are away: today or later, and within a year. Go back and choose one.';

/** What an answer says of which days; undefined where the day does not fit. */
function eventOf(
  { answer, until }: z.infer<typeof bodySchema>,
  { asked, today }: { asked: Asked; today: LocalDate },
) {
  const from = formatLocalDate(Math.min(asked.since, today));
  if (answer === 'not-sure') return { type: 'brinebell.question.v1', data: { step: 'not-sure' } } as const;
  if (answer === 'at-home') {
    return { type: 'brinebell.at-home.v1', data: { from, to: formatLocalDate(today) } } as const;
  }
  const to = until === undefined ? undefined : parseLocalDate(until);
  if (to === undefined || to < today || to > today + LONGEST_AWAY_DAYS) return undefined;
  return { type: 'brinebell.away.v1', data: { from, to: formatLocalDate(to) } } as const;
}
