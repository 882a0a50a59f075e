import { randomUUID } from 'node:crypto';
import type { Access } from './access.ts';
import { StoreError } from './errors.ts';
import { COMPANIES, companyKey, LIST, UNIT, unitKey } from './keys.ts';
import type { Store } from './store.ts';

/** Companies and their registries. A company's item bears the revision of both, and how far it has been swept. */
export function companyItems(
  access: Access,
): Pick<
  Store,
  'putRecords' | 'records' | 'revision' | 'rounds' | 'putSwept' | 'putCompany' | 'company' | 'companies'
> {
  return {
    async putRecords(companyId, records) {
      const foreign = records.find((record) => record.companyId !== companyId);
      if (foreign) throw notOf(companyId, foreign.unitId);
      const items = records.map((record) => ({
        ...unitKey(record, UNIT.record),
        lpk: LIST.units(companyId),
        lsk: record.unitId,
        json: JSON.stringify(record),
      }));
      await access.putAll('putRecords', items);
      // Last, so that nobody takes the records of before for those of the new revision.
      await access.update('putRecords', companyKey(companyId), { revision: randomUUID() });
    },
    async records(companyId, page) {
      const range = { partition: LIST.units(companyId), listed: true };
      const { items, next } = await access.page('records', range, page);
      return { items: items.map(({ json = '' }) => JSON.parse(json)), next };
    },
    async revision(companyId) {
      return (await access.get('revision', companyKey(companyId)))?.revision ?? '';
    },
    async rounds() {
      const items = await access.all('rounds', { partition: COMPANIES });
      return items.map(({ sk, revision = '', swept = null }) => ({
        companyId: sk,
        revision,
        sweptUntil: swept,
      }));
    },
    async putSwept(companyId, until) {
      await access.update('putSwept', companyKey(companyId), { swept: until });
    },
    async putCompany(company) {
      const changes = { json: JSON.stringify(company), revision: randomUUID() };
      await access.update('putCompany', companyKey(company.companyId), changes);
    },
    async company(companyId) {
      const json = (await access.get('company', companyKey(companyId)))?.json;
      return json === undefined ? undefined : JSON.parse(json);
    },
    async companies() {
      const items = await access.all('companies', { partition: COMPANIES });
      // Without a JSON there is a registry or a sweep already and no company yet.
      return items.flatMap(({ json }) => (json === undefined ? [] : [JSON.parse(json)]));
    },
  };
}

/** A record of another company among those of one. */
function notOf(companyId: string, unitId: string): StoreError {
  return new StoreError(
    'refused',
    `the record of ${unitId} is not one of ${companyId}: put it where it belongs`,
  );
}
