import type { OpenAPIHono } from '@hono/zod-openapi';
import { Hono } from 'hono';
import type { Ports } from '../ports.ts';
import type { Api } from './api.ts';
import { type ApiOptions, bareApp } from './bareApp.ts';
import { eventRoutes } from './events.ts';
import { healthRoutes } from './health.ts';

type Routes = (api: Api, options: ApiOptions) => void;

/** A group of routes, and where it may answer. Two are small, need no schema and are asked most: those are there from the start. */
interface Group {
  readonly path: RegExp;
  /** The one method that it answers to, where others of its paths answer to another. */
  readonly method?: 'GET' | 'PUT';
  readonly load: () => Promise<Routes>;
}

const at = (path: string) => new RegExp(`^${path}$`);
/** At an address below a unit's. */
const atUnit = (path: string) => at(`/v1/units/[^/]+/${path}`);

/** Tells of all the others. */
const DOCUMENT: Group = {
  path: at('/openapi\\.json'),
  load: async () => (await import('./openApi.ts')).openApiRoutes,
};

/** All groups, in the order in which `apiApp` has them. */
const GROUPS: readonly Group[] = [
  { path: at('/v1/events'), load: async () => eventRoutes },
  {
    path: at('/v1/units'),
    method: 'PUT',
    load: async () => (await import('./registry.ts')).registryRoutes,
  },
  { path: at('/v1/attention'), load: async () => (await import('./attention.ts')).attentionRoutes },
  { path: at('/v1/units'), method: 'GET', load: async () => (await import('./units.ts')).unitsRoutes },
  { path: at('/v1/units/[^/]+(/events)?'), load: async () => (await import('./unit.ts')).unitRoutes },
  { path: atUnit('story'), load: async () => (await import('./story.ts')).storyRoutes },
  { path: atUnit('brief(\\.[a-z]+)?'), load: async () => (await import('./brief.ts')).briefRoutes },
  { path: atUnit('advice'), load: async () => (await import('./settings.ts')).settingsRoutes },
  {
    path: atUnit('credential'),
    load: async () => {
      const { credentialRoutes } = await import('./credentials.ts');
      return (api, { credentials }) => credentialRoutes(api, credentials);
    },
  },
  {
    path: at('/v1/(units/[^/]+/)?alerts(/[^/]+)?'),
    load: async () => (await import('./alerts.ts')).alertRoutes,
  },
  {
    path: atUnit('alerts/[^/]+/[^/]+'),
    load: async () => (await import('./alertActs.ts')).alertActRoutes,
  },
  { path: at('/v1/alarm-health'), load: async () => (await import('./alarmHealth.ts')).alarmHealthRoutes },
  {
    path: atUnit('out-of-service'),
    load: async () => (await import('./outOfService.ts')).outOfServiceRoutes,
  },
  { path: atUnit('(away|at-home)'), load: async () => (await import('./household.ts')).householdRoutes },
  {
    path: at('/answer/[^/]+'),
    load: async () => {
      const { answerRoutes } = await import('./answer.ts');
      return (api, { answerSecret }) => answerRoutes(api, answerSecret);
    },
  },
  {
    path: at('/v1/(units/[^/]+/)?visits(/[^/]+)?'),
    load: async () => (await import('./visits.ts')).visitRoutes,
  },
  {
    path: at('/v1/quarantine(/[^/]+)?'),
    load: async () => (await import('./quarantine.ts')).quarantineRoutes,
  },
  {
    path: at('/v1/dead-letters(/[^/]+)?'),
    load: async () => {
      const { deadLetterRoutes } = await import('./deadLetters.ts');
      return (api, { deadLetters }) => deadLetters && deadLetterRoutes(api, deadLetters);
    },
  },
  { path: at('/v1/salt\\.[a-z]+'), load: async () => (await import('./salt.ts')).saltRoutes },
  {
    path: at('/v1/accounts(\\.[a-z]+|/.+)?'),
    load: async () => {
      const { accountRoutes } = await import('./accounts.ts');
      return (api, { files }) => accountRoutes(api, files);
    },
  },
  { path: at('/v1/regions'), load: async () => (await import('./regions.ts')).regionRoutes },
  { path: at('/v1/regions/.+'), load: async () => (await import('./regionReports.ts')).regionReportRoutes },
  {
    path: at('/v1/deliveries(\\.[a-z]+)?'),
    load: async () => (await import('./deliveries.ts')).deliveryRoutes,
  },
  { path: at('/v1/what-if'), load: async () => (await import('./whatIf.ts')).whatIfRoutes },
  {
    path: at('/v1/backup/(units|events)\\.ndjson'),
    load: async () => (await import('./backup.ts')).backupRoutes,
  },
  {
    path: at('/v1/backup/rest\\.ndjson'),
    load: async () => (await import('./backupRest.ts')).backupRestRoutes,
  },
  { path: at('/v1/company(/rules)?'), load: async () => (await import('./company.ts')).companyRoutes },
  {
    path: at('/v1/rule-trials(/.+)?'),
    load: async () => {
      const { ruleTrialRoutes } = await import('./ruleTrials.ts');
      return (api, { trials }) => trials && ruleTrialRoutes(api, trials);
    },
  },
  { path: at('/v1/(me|people(/[^/]+)?)'), load: async () => (await import('./people.ts')).peopleRoutes },
  { path: at('/v1/audit'), load: async () => (await import('./audit.ts')).auditRoutes },
  {
    path: at('/v1/changes'),
    load: async () => {
      const { changesRoutes } = await import('./changes.ts');
      return (api) => api.ports.changes && changesRoutes(api, api.ports.changes);
    },
  },
  {
    path: at('/v1/sign-in'),
    load: async () => {
      const { signInRoutes } = await import('./signIn.ts');
      return (api, { identity }) => identity && signInRoutes(api, identity);
    },
  },
  { path: at('/v1/companies(/.+)?'), load: async () => (await import('./companies.ts')).companiesRoutes },
  { path: at('/(health|metrics)'), load: async () => healthRoutes },
  DOCUMENT,
];

/**
 * The same as `apiApp`, for a process that is started for one request: what answers at a path is loaded when it is first
 * asked for there. Where nothing answers, and for the document, that is everything.
 */
export function apiOnDemand(ports: Ports, options: ApiOptions): Hono<{ Bindings: object }> {
  const loaded = new Map<string, Promise<OpenAPIHono>>();

  const make = async (groups: readonly Group[]) => {
    const all = await Promise.all(groups.map(({ load }) => load()));
    const api = bareApp(ports, options);
    for (const routes of all) routes(api, options);
    return api.app;
  };

  return new Hono<{ Bindings: object }>().all('*', async (c) => {
    const groups = groupsFor(c.req.method, c.req.path);
    const name = groups.map((group) => `${group.method} ${group.path.source}`).join(' ');
    let app = loaded.get(name);
    if (!app) {
      app = make(groups);
      loaded.set(name, app);
    }
    return (await app).fetch(c.req.raw, c.env);
  });
}

/** Those that may answer. Where none does by its method, all of the path tell together which methods there are. */
function groupsFor(method: string, path: string): readonly Group[] {
  const asked = GROUPS.filter((group) => group.path.test(path));
  if (asked.length === 0 || asked.includes(DOCUMENT)) return GROUPS;
  const able = asked.filter((group) => group.method === (method === 'HEAD' ? 'GET' : method));
  return able.length > 0 ? able : asked;
}
