import { ID } from './idForm.ts';

/** The `source` of a unit's events, as a regular expression. */
export const SOURCE = new RegExp(`^/companies/${ID}/units/${ID}$`);

/** The ids in a `source`. */
export interface SourceParts {
  companyId: string;
  unitId: string;
}

/** Takes a `source` of that form apart. */
export function partsOfSource(source: string): SourceParts {
  const units = source.indexOf('/units/');
  return {
    companyId: source.slice('/companies/'.length, units),
    unitId: source.slice(units + '/units/'.length),
  };
}
