import * as z from 'zod';
import { ID } from './idForm.ts';

/** An id of a company, unit, site, region or technician. */
export const idSchema = z
  .string()
  .regex(new RegExp(`^${ID}$`), 'is not an id (A-Z a-z 0-9 . _ - , 1 to 64 characters)');

/** The `source` of a unit's events. */
export const sourceSchema = z
  .string()
  .regex(new RegExp(`^/companies/${ID}/units/${ID}$`), 'is not /companies/{companyId}/units/{unitId}');

/** The ids in a `source`. */
export interface SourceParts {
  companyId: string;
  unitId: string;
}

/** Takes a `source` that matches {@link sourceSchema} apart. */
export function partsOfSource(source: string): SourceParts {
  const units = source.indexOf('/units/');
  return {
    companyId: source.slice('/companies/'.length, units),
    unitId: source.slice(units + '/units/'.length),
  };
}
