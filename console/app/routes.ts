import { createRoute, lazyRouteComponent } from '@tanstack/react-router';
import { page } from './page.ts';
import { rootRoute, shellRoute } from './shellRoute.ts';

/** Every page, in the order of the navigation: a line each. */
const pages = [
  page('/', () => import('../attention/AttentionPage.tsx'), {
    label: 'Needs attention',
    roles: ['dispatcher', 'technician', 'analyst', 'owner'],
  }),
  page('/regions', () => import('../regions/RegionsPage.tsx'), {
    label: 'Regions',
    roles: ['analyst', 'owner'],
  }),
  page('/deliveries', () => import('../deliveries/DeliveriesPage.tsx'), {
    label: 'Deliveries',
    roles: ['dispatcher', 'analyst', 'owner'],
  }),
  page('/visits', () => import('../visits/VisitsPage.tsx'), { label: 'Visits' }),
  page('/units/$unitId', () => import('../unit/UnitPage.tsx')),
  page('/units/$unitId/alerts/$alertId', () => import('../unit/UnitPage.tsx')),
  page('/units/$unitId/brief', () => import('../brief/BriefPage.tsx')),
  page('/alarm-health', () => import('../care/alarmHealth/AlarmHealthPage.tsx'), {
    label: 'Alarm health',
    roles: ['dispatcher', 'analyst', 'owner'],
  }),
  page('/data-quality', () => import('../care/quality/QualityPage.tsx'), {
    label: 'Data quality',
    roles: ['dispatcher', 'analyst', 'owner'],
  }),
  page('/dead-letters', () => import('../care/letters/DeadLettersPage.tsx'), {
    label: 'Dead letters',
    roles: ['dispatcher', 'owner'],
  }),
  page('/audit', () => import('../care/audit/AuditPage.tsx'), {
    label: 'Audit trail',
    roles: ['dispatcher', 'owner'],
  }),
  page('/rules', () => import('../care/rules/RulesPage.tsx'), { label: 'Rules', roles: ['owner'] }),
  page('/people', () => import('../care/PeoplePage.tsx'), { label: 'People', roles: ['owner'] }),
  page('/preferences', () => import('../preferences/PreferencesPage.tsx'), { label: 'Preferences' }),
];

/** What must work while nobody has signed in. */
const outside = [
  createRoute({
    getParentRoute: () => rootRoute,
    path: '/sign-in',
    validateSearch: ({ back, out }: { back?: unknown; out?: unknown }) => ({
      ...(typeof back === 'string' && { back }),
      ...(out !== undefined && { out: true }),
    }),
    component: lazyRouteComponent(() => import('../signIn/SignInPage.tsx'), 'Page'),
  }),
  createRoute({
    getParentRoute: () => rootRoute,
    path: '/signed-in',
    component: lazyRouteComponent(() => import('../signIn/SignedInPage.tsx'), 'Page'),
  }),
];

export const routeTree = rootRoute.addChildren([shellRoute.addChildren(pages), ...outside]);
