import { createContext, type ReactNode, useContext, useState } from 'react';
import { ActsDialog } from './ActsDialog.tsx';
import type { Target } from './target.ts';

type OpenActs = (target: Target) => void;

const OpenActsContext = createContext<OpenActs | undefined>(undefined);

/** One dialog for all rows: it stays when the row that opened it scrolls out of the page or goes. */
export function OpenActsProvider({ children }: { children: ReactNode }) {
  const [target, setTarget] = useState<Target>();
  return (
    <OpenActsContext value={setTarget}>
      {children}
      {target && <ActsDialog target={target} onClose={() => setTarget(undefined)} />}
    </OpenActsContext>
  );
}

/** Opens the acts on a unit. */
export function useOpenActs(): OpenActs {
  const open = useContext(OpenActsContext);
  if (!open) throw new Error('useOpenActs is for what stands within OpenActsProvider');
  return open;
}
