import { createRootRoute, createRoute } from '@tanstack/react-router';
import { Shell } from './Shell.tsx';

export const rootRoute = createRootRoute();

/** Around every page that needs somebody to have signed in. */
export const shellRoute = createRoute({ getParentRoute: () => rootRoute, id: 'shell', component: Shell });
