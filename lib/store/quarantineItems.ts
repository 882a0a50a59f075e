import type { Access } from './access.ts';
import { quarantinePartition } from './keys.ts';
import { quarantinedAs } from './quarantinedAs.ts';
import type { Store } from './store.ts';

/** Messages that were set aside. */
export function quarantineItems(
  access: Access,
): Pick<Store, 'putQuarantined' | 'dropQuarantined' | 'quarantined'> {
  return {
    async putQuarantined(messages) {
      const items = messages.map((message) => {
        const { key, kept } = quarantinedAs(message);
        return { pk: quarantinePartition(message.companyId), sk: key, json: JSON.stringify(kept) };
      });
      await access.putAll('putQuarantined', items);
    },
    async dropQuarantined(messages) {
      for (const message of messages) {
        const { key } = quarantinedAs(message);
        await access.drop('dropQuarantined', { pk: quarantinePartition(message.companyId), sk: key });
      }
    },
    async quarantined(companyId, page) {
      const range = { partition: quarantinePartition(companyId), descending: true };
      const { items, next } = await access.page('quarantined', range, page);
      return { items: items.map(({ json = '' }) => JSON.parse(json)), next };
    },
  };
}
