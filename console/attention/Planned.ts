import { createContext, useContext } from 'react';
import type { NamedVisit } from './usePlanned.ts';

export const PlannedContext = createContext<ReadonlyMap<string, NamedVisit>>(new Map());

/** The next planned visit of a unit, within the list. */
export function useNextVisit(unitId: string): NamedVisit | undefined {
  return useContext(PlannedContext).get(unitId);
}
