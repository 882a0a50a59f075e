import { createRoute } from '@hono/zod-openapi';
import * as z from 'zod';
import { adviseUnit } from '../../lib/advice/settings/adviseUnit.ts';
import type { Outcome } from '../../lib/advice/settings/outcome.ts';
import { AdviceRefused } from '../../lib/advice/settings/refusal.ts';
import type { SettingsAdvice } from '../../lib/advice/settings/settingsAdvice.ts';
import { formatLocalDate } from '../../shared/time/localDate.ts';
import { toUnit } from '../../shared/toUnit.ts';
import { CompanyCache } from '../companyCache.ts';
import { receivedOf } from '../unitFacts.ts';
import { type Api, json, knownUnit } from './api.ts';
import { unitParams } from './unitParams.ts';

/** A judgement, no source. */
const USUAL_MOST_HARD_DAYS = 3;

const outcome = z.object({
  settings: z.object({
    saltDoseLb: z.number(),
    capacityGrains: z.number(),
    hardnessGpg: z.number(),
    regenerationHour: z.int(),
  }),
  regenerationsAYear: z.number(),
  saltLbAYear: z.number(),
  waterGallonsAYear: z.number().describe('Of the regenerations, US gallons'),
  hardDaysAYear: z.number(),
});

const adviceView = z
  .object({
    advice: z
      .object({
        mostHardDays: z.number(),
        withinLimit: z.boolean(),
        history: z.object({ from: z.iso.date(), to: z.iso.date(), days: z.int(), missingDays: z.int() }),
        today: outcome,
        advised: outcome,
        saves: z.object({ saltLb: z.number(), waterGallons: z.number(), hardDays: z.number() }),
        frontier: z.array(outcome).describe('No other settings tried beat one of these in all three'),
      })
      .nullable(),
    refused: z
      .object({ reason: z.string(), why: z.string(), whatToDo: z.string() })
      .nullable()
      .describe('Why nothing is advised'),
  })
  .meta({ id: 'SettingsAdvice' });

/** Which settings a unit's own past year speaks for. */
export function settingsRoutes({ app, ports, access }: Api): void {
  const cache = new CompanyCache(ports);
  const get = createRoute({
    method: 'get',
    path: '/v1/units/{unitId}/advice',
    summary: 'The settings that a unit’s own past year speaks for',
    ...access.company,
    request: {
      params: unitParams,
      query: z.object({ mostHardDays: z.coerce.number().min(0).max(60).default(USUAL_MOST_HARD_DAYS) }),
    },
    responses: { 200: json(adviceView, 'The advice, or why there is none') },
  });
  app.openapi(get, async (c) => {
    const { ref, record } = await knownUnit(ports, c.var.caller, c.req.valid('param').unitId);
    const unit = toUnit(record);
    const [received, { rules }] = await Promise.all([
      receivedOf(ports.store, ref, unit),
      cache.rules(ref.companyId, { changed: false }),
    ]);
    const { mostHardDays } = c.req.valid('query');
    try {
      const advice = adviseUnit(unit, received, { rules, until: ports.now(), mostHardDays });
      return c.json({ advice: viewOf(advice), refused: null }, 200);
    } catch (error) {
      if (!(error instanceof AdviceRefused)) throw error;
      const { reason, message, advice } = error;
      return c.json({ advice: null, refused: { reason, why: message, whatToDo: advice } }, 200);
    }
  });
}

function viewOf({ mostHardDays, withinLimit, history, today, advised, saves, frontier }: SettingsAdvice) {
  const { from, to, days, missingDays } = history;
  return {
    ...{ mostHardDays, withinLimit, saves },
    history: { from: formatLocalDate(from), to: formatLocalDate(to), days, missingDays },
    today: plain(today),
    advised: plain(advised),
    frontier: frontier.map(plain),
  };
}

function plain({ settings, regenerationsAYear, saltLbAYear, waterGallonsAYear, hardDaysAYear }: Outcome) {
  return { settings, regenerationsAYear, saltLbAYear, waterGallonsAYear, hardDaysAYear };
}
