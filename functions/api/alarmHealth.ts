import { createRoute } from '@hono/zod-openapi';
import * as z from 'zod';
import { fieldConfirmed } from '../../lib/alarms/fieldConfirmed.ts';
import { alarmHealth } from '../../lib/alarms/health.ts';
import { SHORTEST_WINDOW_DAYS, TARGETS } from '../../lib/alarms/targets.ts';
import type { StoredAlert } from '../../lib/store/store.ts';
import { VISIT_OUTCOMES } from '../../lib/watch/fieldOutcome.ts';
import { ALERT_KINDS, SEVERITIES } from '../../shared/alerts.ts';
import { keysOf } from '../../shared/records.ts';
import { formatInstant, parseInstant } from '../../shared/time/instant.ts';
import { instantSchema } from '../../shared/time/instantSchema.ts';
import { alertsSince } from '../companyAlarms.ts';
import { type Api, json } from './api.ts';

const DAY_MS = 86_400_000;
const LONGEST_WINDOW_DAYS = 366;

const count = z.int().min(0);
const share = z.number().min(0).max(1);

const measure = z.object({
  value: z.number(),
  target: z.object({
    most: z.number().describe('The target is met at this or below'),
    manageable: z.number().optional().describe('A laxer bound: the most that can be managed at all'),
    source: z.string(),
  }),
  met: z.boolean().nullable().describe('Null where it cannot be judged: too few alarms'),
});

const rate = z.object({
  value: share.nullable().describe('Null where no visit tells'),
  low: share.describe('Two-sided 90 %'),
  high: share,
});

const fieldView = z.object({
  kind: z.enum(ALERT_KINDS),
  visited: count.describe('Alerts of which a visit tells what it found'),
  visitedWithoutWord: count.describe('Alerts that were visited, and no finding says anything'),
  notVisited: count,
  confirmed: rate.describe('Share of visits that found the cause that the alert named'),
  somethingFound: rate.describe('Share of visits that found that or another cause'),
});

const healthView = z
  .object({
    from: instantSchema,
    until: instantSchema,
    windowDays: z.number(),
    alarms: count.describe('Alerts raised in the window'),
    measures: z
      .record(z.enum(keysOf(TARGETS)), measure)
      .describe('Each beside its published target, for one operator'),
    priorities: z.record(z.enum(SEVERITIES), count),
    standing: z.object({
      open: count,
      attended: count.describe('Acknowledged or shelved'),
      stale: count.describe('Open for over 24 h, neither acknowledged nor shelved'),
      mostStaleOnADay: count,
    }),
    field: z.array(fieldView).describe('What technicians found, by kind, of alerts raised in the window'),
  })
  .meta({ id: 'AlarmHealth' });

/** How well the company's alerts do as an alarm system, by the published targets and by what technicians found. */
export function alarmHealthRoutes({ app, ports, access }: Api): void {
  const route = createRoute({
    method: 'get',
    path: '/v1/alarm-health',
    summary: 'The health of the company’s alerts as an alarm system',
    description: 'Rates, floods, nuisance and standing alerts beside the targets of ISA-18.2, until now.',
    ...access.company,
    request: {
      query: z.object({
        days: z.coerce
          .number()
          .int()
          .min(SHORTEST_WINDOW_DAYS)
          .max(LONGEST_WINDOW_DAYS)
          .default(SHORTEST_WINDOW_DAYS)
          .describe('So many days until now'),
      }),
    },
    responses: { 200: json(healthView, 'Its figures') },
  });
  app.openapi(route, async (c) => {
    const until = ports.now();
    const from = until - c.req.valid('query').days * DAY_MS;
    const alerts = await alertsSince(ports.store, c.var.caller.companyId, from);
    const raised = alerts.filter(({ alert }) => (parseInstant(alert.raisedAt) ?? 0) >= from);
    return c.json(
      {
        from: formatInstant(from),
        until: formatInstant(until),
        ...alarmHealth(alerts, { from, until }),
        field: fieldOf(raised),
      },
      200,
    );
  });
}

const visitSchema = z.object({ outcome: z.enum(VISIT_OUTCOMES) }).optional();

/** A visit that says nothing speaks neither for an alert nor against it: for the rates it is none. */
function fieldOf(alerts: readonly StoredAlert[]): z.infer<typeof fieldView>[] {
  const outcomes = alerts.map(({ alert: { kind, evidence } }) => ({
    kind,
    told: visitSchema.parse(evidence.fieldOutcome)?.outcome,
  }));
  const judged = outcomes.map(({ kind, told }) => ({
    kind,
    outcome: told === undefined || told === 'no-word' ? ('not-visited' as const) : told,
  }));
  return fieldConfirmed(judged).map(({ notVisited, ...rates }) => {
    const wordless = outcomes.filter(({ kind, told }) => kind === rates.kind && told === 'no-word').length;
    return { ...rates, visitedWithoutWord: wordless, notVisited: notVisited - wordless };
  });
}
