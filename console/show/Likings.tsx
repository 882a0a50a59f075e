import { createContext, type ReactNode, useContext, useMemo } from 'react';
import type { Me } from '../api/types.ts';

/** How whoever looks likes figures and times shown. */
export interface Likings {
  readonly units: 'us' | 'metric';
  /** A language tag (BCP 47); that of the browser where they said nothing. */
  readonly locale: string;
  /** An IANA zone of their own, for what happens at no site; that of the browser where they said nothing. */
  readonly timeZone: string;
}

const LikingsContext = createContext<Likings | undefined>(undefined);

export function LikingsProvider({ me, children }: { me: Me; children: ReactNode }) {
  const likings = useMemo(() => likingsOf(me), [me]);
  return <LikingsContext value={likings}>{children}</LikingsContext>;
}

/** @throws outside of the shell, where nobody has signed in */
export function useLikings(): Likings {
  const likings = useContext(LikingsContext);
  if (!likings) throw new Error('useLikings is for pages inside of the shell');
  return likings;
}

function likingsOf({ person }: Me): Likings {
  return {
    units: person?.units ?? 'us',
    locale: person?.locale ?? navigator.language,
    timeZone: person?.timeZone ?? Intl.DateTimeFormat().resolvedOptions().timeZone,
  };
}
