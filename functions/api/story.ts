import { createRoute } from '@hono/zod-openapi';
import * as z from 'zod';
import { fanOf } from '../../lib/unit/fan.ts';
import { outlook } from '../../lib/unit/outlook.ts';
import { type Story, storyOf } from '../../lib/unit/story.ts';
import { forecastSchema } from '../../shared/forecasts.ts';
import { formatInstant } from '../../shared/time/instant.ts';
import { instantSchema } from '../../shared/time/instantSchema.ts';
import { formatLocalDate, parseLocalDate } from '../../shared/time/localDate.ts';
import { toUnit } from '../../shared/toUnit.ts';
import { CompanyCache } from '../companyCache.ts';
import { standingFacts } from '../unitFacts.ts';
import { alertView, viewOf } from './alertView.ts';
import { type Api, json, unitUnknown } from './api.ts';
import { unitParams } from './unitParams.ts';
import { viewOfVisit, visitView } from './visitView.ts';

/** Without a first day so many are told. */
const USUAL_DAYS = 90;

const gallons = z.number().describe('US gallons');
const date = z.iso.date();
const gpg = z.number().nullable();

const storyView = z
  .object({
    unit: z.object({
      unitId: z.string(),
      siteId: z.string(),
      siteName: z.string().nullable(),
      address: z.string().nullable(),
      region: z.string(),
      round: z.string().nullable().describe('On which salt is brought'),
      timeZone: z.string(),
      arrangement: z.enum(['single', 'alternating']),
      resinCubicFeet: z.number(),
      saltDoseLb: z.number(),
      hardnessGpg: z.number().describe('Compensated: what each gallon takes from the bed'),
      programmed: z.object({
        hardnessGpg: z.number(),
        capacityGrains: z.number(),
        regenerationHour: z.int(),
      }),
      inService: z.boolean().describe('False while the control stands in its set-up mode'),
    }),
    from: date,
    lastReported: date.nullable(),
    days: z
      .array(
        z.object({
          date,
          gallons,
          remainingGallons: gallons,
          believedGallons: gallons.nullable(),
          isHard: z.boolean(),
        }),
      )
      .describe('Those that were reported'),
    regenerations: z.array(
      z.object({
        at: instantSchema,
        date,
        trigger: z.enum(['metered', 'manual', 'override', 'unknown']),
        drewSalt: z.number().min(0).max(1).describe('Probability'),
        measuredLb: z.number().nullable(),
        expectedLb: z.number(),
      }),
    ),
    visits: z.array(
      z.object({
        at: instantSchema,
        technician: z.string(),
        findings: z.array(z.string()),
        work: z.array(z.string()),
        saltAddedLb: z.number().nullable(),
        rawHardnessGpg: gpg,
        coldHardnessGpg: gpg,
        hotHardnessGpg: gpg,
        notes: z.string().nullable(),
      }),
    ),
    planned: z.array(visitView),
    alerts: z.array(alertView),
    forecast: forecastSchema.nullable(),
    fan: z
      .array(z.object({ date, p10: gallons, p50: gallons, p90: gallons }))
      .describe('What the bed will have left'),
  })
  .meta({ id: 'Story' });

/** What happened to one unit, day by day, as it is known now. */
export function storyRoutes({ app, ports, access }: Api): void {
  const { store } = ports;
  const cache = new CompanyCache(ports);

  const get = createRoute({
    method: 'get',
    path: '/v1/units/{unitId}/story',
    summary: 'A unit’s story, day by day',
    description: `As it is known now: a correction stands where it belongs. The last ${USUAL_DAYS} days unless another first day is named.`,
    ...access.company,
    request: { params: unitParams, query: z.object({ from: date.optional() }) },
    responses: { 200: json(storyView, 'The story') },
  });
  app.openapi(get, async (c) => {
    const { companyId } = c.var.caller;
    const ref = { companyId, unitId: c.req.valid('param').unitId };
    const [{ record, stored }, alerts, planned, { rules }] = await Promise.all([
      store.unit(ref, { fresh: true }),
      store.alertsOf(ref),
      store.visits(ref),
      cache.rules(companyId, { changed: false }),
    ]);
    if (!record) throw unitUnknown();
    const unit = toUnit(record);
    const today = unit.zone.dateAt(ports.now());
    const from = parseLocalDate(c.req.valid('query').from ?? '') ?? today - USUAL_DAYS;
    const story = storyOf(unit, await standingFacts(store, ref, unit), rules.fold, from);
    const state = stored?.head.state;
    const lastReported = state?.lastReported ?? null;
    return c.json(
      {
        unit: {
          unitId: unit.unitId,
          siteId: unit.siteId,
          siteName: record.site?.name ?? null,
          address: record.site?.address ?? null,
          region: unit.region,
          round: unit.round ?? null,
          timeZone: record.timeZone,
          arrangement: record.arrangement,
          resinCubicFeet: unit.resinCubicFeet,
          saltDoseLb: state?.bed.saltDoseLb ?? unit.saltDoseLb,
          hardnessGpg: state?.compensatedHardnessGpg ?? unit.hardnessGpg,
          programmed: state?.programmed ?? unit.programmed,
          inService: state?.inService ?? true,
        },
        from: formatLocalDate(from),
        lastReported: lastReported === null ? null : formatLocalDate(lastReported),
        ...told(story),
        planned: planned.map(viewOfVisit),
        alerts: alerts.map((alert) => viewOf(alert, ports.now())),
        forecast: state && lastReported !== null ? outlook(unit, state, lastReported) : null,
        fan:
          state && lastReported !== null
            ? fanOf(state, lastReported).map((each) => ({ ...each, date: formatLocalDate(each.date) }))
            : [],
      },
      200,
    );
  });
}

function told({ days, regenerations, visits }: Story) {
  return {
    days: days.map((day) => ({ ...day, date: formatLocalDate(day.date) })),
    regenerations: regenerations.map((each) => ({
      ...each,
      at: formatInstant(each.at),
      date: formatLocalDate(each.date),
    })),
    visits: visits.map(({ at, technician, findings, work, ...rest }) => ({
      at: formatInstant(at),
      technician,
      findings,
      work,
      saltAddedLb: rest.saltAddedLb ?? null,
      rawHardnessGpg: rest.rawHardnessGpg ?? null,
      coldHardnessGpg: rest.coldHardnessGpg ?? null,
      hotHardnessGpg: rest.hotHardnessGpg ?? null,
      notes: rest.notes ?? null,
    })),
  };
}
