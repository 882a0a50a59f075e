import { unitRecordSchema } from '../../shared/registry.ts';

/** A record of the registry, as the OpenAPI document has it by name. */
export const recordSchema = unitRecordSchema().meta({ id: 'UnitRecord' });
