import { createRoute } from '@hono/zod-openapi';
import * as z from 'zod';
import { trialSummarySchema } from '../../lib/trial/summary.ts';
import { formatInstant } from '../../shared/time/instant.ts';
import type { TrialLook, Trials } from '../trial/trials.ts';
import { PAGE_HEADERS } from './answerPage.ts';
import { type Api, json, jsonBody, text } from './api.ts';
import { givenRules } from './companyView.ts';
import { Problem } from './problems.ts';

const startedView = z.object({ trialId: z.string() }).meta({ id: 'StartedTrial' });

const trialView = z
  .object({
    trialId: z.string(),
    state: z.enum(['running', 'done', 'failed']),
    until: z.iso.datetime().nullable().describe('Up to when both replays run; null until it is planned'),
    rules: z.record(z.string(), z.unknown()).nullable().describe('What is proposed to override'),
    units: z.int().nullable(),
    parts: z.object({ done: z.int(), failed: z.int(), of: z.int() }).nullable().describe('Ranges of units'),
    summary: trialSummarySchema.nullable(),
    failure: z.string().nullable().describe('Why it came to nothing'),
  })
  .meta({ id: 'RuleTrial' });

const params = z.object({ trialId: z.string() });

/** What other rules would have done to the alerts of a company's whole past, before they are rolled out. */
export function ruleTrialRoutes({ app, access }: Api, trials: Trials): void {
  const post = createRoute({
    method: 'post',
    path: '/v1/rule-trials',
    summary: 'Try rules on all that has been received, beside those that stand',
    description: 'Nothing of the company changes. It takes minutes; one at a time.',
    ...access.owner,
    request: {
      body: jsonBody(z.strictObject({ rules: givenRules }), { rules: { overrun: { raise: 0.97 } } }),
    },
    responses: { 202: json(startedView, 'It is under way: ask for it by its id') },
  });
  app.openapi(post, async (c) => {
    const trialId = await trials.start(c.var.caller.companyId, c.req.valid('json').rules);
    if (trialId === undefined) {
      throw new Problem('at-work-already', 'Wait until the trial that is under way has ended.', {
        headers: { 'retry-after': '60' },
      });
    }
    return c.json({ trialId }, 202);
  });

  const get = createRoute({
    method: 'get',
    path: '/v1/rule-trials/{trialId}',
    summary: 'How far a trial is, and what it found',
    ...access.company,
    request: { params },
    responses: { 200: json(trialView, 'The trial') },
  });
  app.openapi(get, async (c) => {
    const look = await trials.look(c.var.caller.companyId, c.req.valid('param').trialId);
    if (!look) throw trialUnknown();
    return c.json(viewOf(look), 200);
  });

  const page = createRoute({
    method: 'get',
    path: '/v1/rule-trials/{trialId}/page',
    summary: 'What it found, as a page that can be kept and printed',
    ...access.company,
    request: { params },
    responses: { 200: text('text/html', 'A page of its own') },
  });
  app.openapi(page, async (c) => {
    const found = await trials.page(c.var.caller.companyId, c.req.valid('param').trialId);
    if (found === undefined) throw trialUnknown();
    return c.html(found, 200, PAGE_HEADERS);
  });
}

function viewOf({ trialId, state, plan, partsDone, partsFailed, summary, failure }: TrialLook) {
  return {
    ...{ trialId, state, summary, failure },
    until: plan && formatInstant(plan.until),
    rules: plan?.proposed ?? null,
    units: plan?.units ?? null,
    parts: plan && { done: partsDone, failed: partsFailed, of: plan.parts },
  };
}

function trialUnknown(): Problem {
  return new Problem(
    'trial-unknown',
    'Start one with POST /v1/rule-trials; its page is there once it is done.',
  );
}
