import { Button } from '@mantine/core';
import { Link, useRouter } from '@tanstack/react-router';
import { BarePage } from './BarePage.tsx';
import { Empty } from './Empty.tsx';
import { messageOf, titleOf } from './failure.ts';
import { PageHead } from './PageHead.tsx';

/** A page failed: what, and what to do about it. The router shows it in place of the page. */
export function ErrorPage({ error, reset }: { error: unknown; reset: () => void }) {
  const router = useRouter();
  const again = () => {
    reset();
    void router.invalidate();
  };
  return (
    <>
      <PageHead title="This page failed" />
      <ErrorState error={error} retry={again} />
    </>
  );
}

/** What could not be had, within a page. */
export function ErrorState({ error, retry }: { error: unknown; retry: () => void }) {
  return (
    <div role="alert">
      <Empty title={titleOf(error)}>
        <p>{messageOf(error)}</p>
        <Button variant="default" onClick={retry}>
          Try again
        </Button>
      </Empty>
    </div>
  );
}

/** No page has this address. */
export function NothingHere() {
  return (
    <BarePage title="There is no such page">
      <p>Perhaps the address was cut short, or the page is no longer there.</p>
      <Link to="/">Go to the start</Link>
    </BarePage>
  );
}
