import { useNavigate, useSearch } from '@tanstack/react-router';

/** Which units are looked at. It stands in the page's address, so that it can be kept and sent. */
export interface Choice {
  /** All regions, if it is left out. */
  readonly region?: string;
  /** All rounds, if it is left out; empty for units on none. */
  readonly round?: string;
}

/** Reads what stands in an address; what is no choice there is left out. */
function choiceOf({ region, round }: Readonly<Record<string, unknown>>): Choice {
  return {
    ...(typeof region === 'string' && region !== '' && { region }),
    ...(typeof round === 'string' && { round }),
  };
}

/** The choice of the address, and what puts another in its place. */
export function useChoice(): [Choice, (choice: Choice) => void] {
  const navigate = useNavigate();
  const choice = choiceOf(useSearch({ strict: false }));
  const change = (wanted: Choice) =>
    void navigate({ to: '/deliveries', search: { ...wanted }, replace: true, resetScroll: false });
  return [choice, change];
}
