import { createRoute, lazyRouteComponent } from '@tanstack/react-router';
import type { ComponentType } from 'react';
import type { Role } from '../api/types.ts';
import { shellRoute } from './shellRoute.ts';

declare module '@tanstack/react-router' {
  interface StaticDataRouteOption {
    /** What the navigation calls the page; one without is reached from another page. */
    label?: string;
    /** The roles to whom the navigation shows it; everybody, if left out. The service judges who may see what. */
    roles?: readonly Role[];
  }
}

/** A page inside of the shell, loaded when it is first wanted. Its file exports it as `Page`. */
export function page<const Path extends string>(
  path: Path,
  load: () => Promise<{ Page: ComponentType }>,
  staticData: { label?: string; roles?: readonly Role[] } = {},
) {
  return createRoute({
    getParentRoute: () => shellRoute,
    path,
    component: lazyRouteComponent(load, 'Page'),
    staticData,
  });
}
