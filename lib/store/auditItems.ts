import { randomUUID } from 'node:crypto';
import { formatInstant } from '../../shared/time/instant.ts';
import type { Access } from './access.ts';
import { auditPartition } from './keys.ts';
import type { Store } from './store.ts';

/** What people did, in its order. */
export function auditItems(access: Access): Pick<Store, 'putAudited' | 'dropAudited' | 'audited'> {
  return {
    async putAudited(companyId, entry) {
      const sk = `${formatInstant(entry.at)}#${randomUUID()}`;
      await access.put('putAudited', { pk: auditPartition(companyId), sk, json: JSON.stringify(entry) });
      return sk;
    },
    async dropAudited(companyId, key) {
      await access.drop('dropAudited', { pk: auditPartition(companyId), sk: key });
    },
    async audited(companyId, page) {
      const range = { partition: auditPartition(companyId), descending: true };
      const { items, next } = await access.page('audited', range, page);
      return { items: items.map(({ json = '' }) => JSON.parse(json)), next };
    },
  };
}
