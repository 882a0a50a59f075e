import { Button } from '@mantine/core';
import { Link, useRouterState } from '@tanstack/react-router';
import { ServiceProblem } from '../api/problem.ts';
import { endSession } from '../signIn/session.ts';
import { BarePage } from './BarePage.tsx';
import { messageOf, titleOf } from './failure.ts';
import { Progress } from './Progress.tsx';

/** Stands for all pages while it is not known who asks: why not, and what to do. */
export function NotIn({ error, retry }: { error: unknown; retry: () => void }) {
  const back = useRouterState({ select: ({ location }) => location.href });
  if (!(error instanceof ServiceProblem)) {
    return (
      <BarePage title={titleOf(error)}>
        <p role="alert">{messageOf(error)}</p>
        <Button onClick={retry}>Try again</Button>
      </BarePage>
    );
  }
  // Whoever has no token is on the way to the sign-in already.
  if (error.is('key-missing')) {
    return (
      <BarePage title="Brinebell">
        <Progress what="Going to the sign-in" />
      </BarePage>
    );
  }
  const isStranger = error.is('person-unknown');
  return (
    <BarePage title={isStranger ? 'You belong to no company here' : titleOf(error)}>
      <p role="alert">{messageOf(error)}</p>
      {isStranger || error.status === 401 ? (
        <Link to="/sign-in" search={{ out: true, back }} onClick={endSession}>
          Sign in as somebody else
        </Link>
      ) : (
        <Button onClick={retry}>Try again</Button>
      )}
    </BarePage>
  );
}
