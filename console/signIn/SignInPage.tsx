import { Button } from '@mantine/core';
import { useQueryClient } from '@tanstack/react-query';
import { useSearch } from '@tanstack/react-router';
import { useEffect, useState } from 'react';
import { BarePage } from '../app/BarePage.tsx';
import { messageOf } from '../app/failure.ts';
import { Progress } from '../app/Progress.tsx';
import { beginSignIn } from './begin.ts';

/** Sends people to the provider: by themselves if the service asked for it, by a button if they have signed out. */
export function Page() {
  const { back = '/', out } = useSearch({ from: '/sign-in' });
  const client = useQueryClient();
  const [error, setError] = useState<unknown>();
  const [goes, setGoes] = useState(!out);
  useEffect(() => {
    // What one person was shown is not for the next.
    client.clear();
  }, [client]);
  useEffect(() => {
    if (!goes) return;
    setError(undefined);
    beginSignIn(back).catch((reason: unknown) => {
      setError(reason);
      setGoes(false);
    });
  }, [goes, back]);
  if (goes) {
    return (
      <BarePage title="Brinebell">
        <Progress what="Going to the sign-in" />
      </BarePage>
    );
  }
  return (
    <BarePage title={error ? 'The sign-in cannot be reached' : 'You have signed out'}>
      {error !== undefined && <p role="alert">{messageOf(error)}</p>}
      <Button onClick={() => setGoes(true)}>{error ? 'Try again' : 'Sign in'}</Button>
    </BarePage>
  );
}
