import { useCallback, useEffect, useRef, useState } from 'react';
import type { WhatIfResult } from '../../api/types.ts';
import { askWhatIf, type Progressed, type Question } from './ask.ts';

/** How far a question has come. */
export type Asked =
  | { readonly state: 'idle' }
  | { readonly state: 'working'; readonly progress: Progressed | undefined }
  | { readonly state: 'stopped' }
  | { readonly state: 'failed'; readonly question: Question; readonly error: unknown }
  | { readonly state: 'done'; readonly question: Question; readonly outcome: WhatIfResult };

/** Asks one question at a time; leaving the page gives it up. */
export function useWhatIf() {
  const [asked, setAsked] = useState<Asked>({ state: 'idle' });
  const current = useRef<AbortController>(undefined);
  useEffect(() => () => current.current?.abort(), []);
  const ask = useCallback(async (question: Question) => {
    const own = new AbortController();
    current.current?.abort();
    current.current = own;
    const set = (next: Asked) => {
      if (current.current === own) setAsked(next);
    };
    set({ state: 'working', progress: undefined });
    try {
      const outcome = await askWhatIf(
        question,
        (progress) => set({ state: 'working', progress }),
        own.signal,
      );
      set({ state: 'done', question, outcome });
    } catch (error) {
      set(own.signal.aborted ? { state: 'stopped' } : { state: 'failed', question, error });
    }
  }, []);
  const stop = useCallback(() => current.current?.abort(), []);
  return { asked, ask, stop };
}
