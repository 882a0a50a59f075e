import type { Page, PageRequest, Store, StoredAlert } from '../lib/store/store.ts';
import { type Instant, parseInstant } from '../shared/time/instant.ts';
import { pages } from './everything.ts';

/** All alerts of a company that were open at some time since an instant. */
export async function alertsSince(store: Store, companyId: string, from: Instant): Promise<StoredAlert[]> {
  const found = new Map<string, StoredAlert>();
  const add = (each: StoredAlert) => found.set(`${each.alert.unitId} ${each.alertId}`, each);
  const list =
    (open: boolean) =>
    (page: PageRequest): Promise<Page<StoredAlert>> =>
      store.alerts(companyId, open, page);
  for await (const some of pages(list(true))) some.forEach(add);
  // The latest first: where one cleared before, so did all after it. An alert that cleared in between is in both.
  for await (const some of pages(list(false))) {
    const within = some.filter(({ alert }) => clearedAt(alert) >= from);
    within.forEach(add);
    if (within.length < some.length) break;
  }
  return [...found.values()];
}

function clearedAt({ clearedAt }: StoredAlert['alert']): Instant {
  return clearedAt === null ? Number.POSITIVE_INFINITY : (parseInstant(clearedAt) ?? 0);
}
