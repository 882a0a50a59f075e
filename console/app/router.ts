import { createRouter } from '@tanstack/react-router';
import { onSignInNeeded } from '../signIn/needed.ts';
import { ErrorPage, NothingHere } from './ErrorPage.tsx';
import { Progress } from './Progress.tsx';
import { routeTree } from './routes.ts';

export const router = createRouter({
  routeTree,
  defaultPreload: 'intent',
  defaultErrorComponent: ErrorPage,
  defaultNotFoundComponent: NothingHere,
  defaultPendingComponent: Progress,
  defaultPendingMs: 300,
  scrollRestoration: true,
});

declare module '@tanstack/react-router' {
  interface Register {
    router: typeof router;
  }
}

onSignInNeeded(() => {
  const { pathname, searchStr, hash } = router.state.location;
  if (pathname === '/sign-in' || pathname === '/signed-in') return;
  const back = `${pathname}${searchStr}${hash && `#${hash}`}`;
  void router.navigate({ to: '/sign-in', search: { back }, replace: true });
});
