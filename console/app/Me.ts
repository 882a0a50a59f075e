import { createContext, useContext } from 'react';
import type { Me } from '../api/types.ts';

export const MeContext = createContext<Me | undefined>(undefined);

/**
 * Who has signed in.
 *
 * @throws outside of the shell, where nobody has
 */
export function useMe(): Me {
  const me = useContext(MeContext);
  if (!me) throw new Error('useMe is for pages inside of the shell');
  return me;
}
