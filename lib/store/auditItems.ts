import { randomUUID } from 'node:crypto';
import { formatInstant } from '../../shared/time/instant.ts';
import type { Access } from './access.ts';
import { auditPartition } from './keys.ts';
import type { Store } from './store.ts';

/** What people did, in its order: only ever added to. */
export function auditItems(access: Access): Pick<Store, 'putAudited' | 'audited'> {
  return {
    async putAudited(companyId, entry) {
      const sk = `${formatInstant(entry.at)}#${randomUUID()}`;
      await access.put('putAudited', { pk: auditPartition(companyId), sk, json: JSON.stringify(entry) });
    },
    async audited(companyId, page) {
      const range = { partition: auditPartition(companyId), descending: true };
      const { items, next } = await access.page('audited', range, page);
      return { items: items.map(({ json = '' }) => JSON.parse(json)), next };
    },
  };
}
