import { useQueryClient } from '@tanstack/react-query';
import { Link, useRouter } from '@tanstack/react-router';
import { useEffect, useState } from 'react';
import { BarePage } from '../app/BarePage.tsx';
import { messageOf } from '../app/failure.ts';
import { Progress } from '../app/Progress.tsx';
import { completeSignIn } from './complete.ts';

/** A code is good for one exchange, and an effect may run twice. */
let completing: Promise<string> | undefined;

/** Where the provider sends people back to; from here they go to the page that they wanted. */
export function Page() {
  const router = useRouter();
  const client = useQueryClient();
  const [error, setError] = useState<unknown>();
  useEffect(() => {
    completing ??= completeSignIn();
    completing
      .then((back) => {
        client.clear();
        router.history.replace(back);
      })
      .catch(setError)
      .finally(() => {
        completing = undefined;
      });
  }, [router, client]);
  if (error === undefined) {
    return (
      <BarePage title="Brinebell">
        <Progress what="Signing in" />
      </BarePage>
    );
  }
  return (
    <BarePage title="The sign-in failed">
      <p role="alert">{messageOf(error)}</p>
      <Link to="/sign-in" search={{}}>
        Sign in again
      </Link>
    </BarePage>
  );
}
