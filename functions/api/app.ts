import { OpenAPIHono } from '@hono/zod-openapi';
import { methodNotAllowed } from 'hono/method-not-allowed';
import type { Ports } from '../ports.ts';
import { accessOf } from './access.ts';
import { alarmHealthRoutes } from './alarmHealth.ts';
import { alertActRoutes } from './alertActs.ts';
import { alertRoutes } from './alerts.ts';
import { answerRoutes } from './answer.ts';
import type { Api } from './api.ts';
import { attentionRoutes } from './attention.ts';
import { auditRoutes } from './audit.ts';
import { backupRoutes } from './backup.ts';
import { backupRestRoutes } from './backupRest.ts';
import { briefRoutes } from './brief.ts';
import { changesRoutes } from './changes.ts';
import { companiesRoutes } from './companies.ts';
import { companyRoutes } from './company.ts';
import { credentialRoutes } from './credentials.ts';
import { type DeadLetters, deadLetterRoutes } from './deadLetters.ts';
import { eventRoutes } from './events.ts';
import { invalid, onFailure } from './failures.ts';
import { type Health, healthRoutes, type Metrics } from './health.ts';
import { householdRoutes } from './household.ts';
import type { Identity } from './identity.ts';
import { openApiRoutes } from './openApi.ts';
import { outOfServiceRoutes } from './outOfService.ts';
import { peopleRoutes } from './people.ts';
import { PRIVATE } from './private.ts';
import { answer, Problem } from './problems.ts';
import { quarantineRoutes } from './quarantine.ts';
import { regionRoutes } from './regions.ts';
import { registryRoutes } from './registry.ts';
import { saltRoutes } from './salt.ts';
import { settingsRoutes } from './settings.ts';
import { signInRoutes } from './signIn.ts';
import { storyRoutes } from './story.ts';
import { unitRoutes } from './units.ts';
import { visitRoutes } from './visits.ts';
import { whatIfRoutes } from './whatIf.ts';

export interface ApiOptions {
  /** What `hashOf` of the operator's secret gives; without it nobody is the operator. */
  readonly operatorKeyHash?: string | undefined;
  /** Vouches for people who sign in; without one there are only keys. */
  readonly identity?: Identity | undefined;
  /** Signs the links by which households answer. */
  readonly answerSecret: string;
  health(): Promise<Health>;
  metrics?: (() => Promise<Metrics>) | undefined;
  readonly deadLetters?: DeadLetters | undefined;
}

/** The HTTP API: what is asked for goes through its ports, and nothing is kept between requests. */
export function apiApp(ports: Ports, options: ApiOptions): OpenAPIHono {
  const app = new OpenAPIHono({
    defaultHook: (result) => {
      if (!result.success) throw invalid(result.target, result.error);
    },
  });
  // A HEAD is answered as the GET would be, without its body; a stream must then not go on for nobody.
  app.use(async (c, next) => {
    await next();
    if (c.req.method === 'HEAD') await c.res.body?.cancel();
  });
  app.use(async (c, next) => {
    for (const [name, value] of Object.entries(PRIVATE)) c.header(name, value);
    await next();
  });
  app.use(
    methodNotAllowed({
      app,
      onMethodNotAllowed: (c, methods) =>
        answer(
          c,
          new Problem('method-not-allowed', `Use ${methods.join(' or ')}.`, {
            headers: { allow: methods.join(', ') },
          }),
        ),
    }),
  );
  app.notFound((c) => answer(c, new Problem('route-unknown', 'See /openapi.json for what there is.')));
  app.onError((error, c) => onFailure(error, c, ports.log));

  const api: Api = { app, ports, access: accessOf(ports, options) };
  eventRoutes(api);
  registryRoutes(api);
  attentionRoutes(api);
  unitRoutes(api);
  storyRoutes(api);
  briefRoutes(api);
  settingsRoutes(api);
  credentialRoutes(api);
  alertRoutes(api);
  alertActRoutes(api);
  alarmHealthRoutes(api);
  outOfServiceRoutes(api);
  householdRoutes(api);
  answerRoutes(api, options.answerSecret);
  visitRoutes(api);
  quarantineRoutes(api);
  if (options.deadLetters) deadLetterRoutes(api, options.deadLetters);
  saltRoutes(api);
  regionRoutes(api);
  whatIfRoutes(api);
  backupRoutes(api);
  backupRestRoutes(api);
  companyRoutes(api);
  peopleRoutes(api);
  auditRoutes(api);
  if (ports.changes) changesRoutes(api, ports.changes);
  if (options.identity) signInRoutes(api, options.identity);
  companiesRoutes(api);
  healthRoutes(api, options);
  openApiRoutes(api);
  return app;
}
