import { handlingOf } from '../live/alertActs.ts';
import type { Access } from './access.ts';
import { alertOrder } from './alertOrder.ts';
import { unlessConflict } from './failures.ts';
import type { Item } from './item.ts';
import { LIST, PREFIX, unitKey, unitPartition } from './keys.ts';
import { notNewer } from './notNewer.ts';
import type { Store, StoredAlert } from './store.ts';

/** Alerts: what is known of each, and apart from it what people did about it; both as of a version of the head. */
export function alertItems(
  access: Access,
): Pick<
  Store,
  'putAlert' | 'dropAlert' | 'putActs' | 'putTold' | 'wasTold' | 'alert' | 'alertsOf' | 'alerts'
> {
  return {
    async putAlert(unit, version, alertId, alert) {
      const changes = {
        lpk: LIST.alerts(unit.companyId, alert.clearedAt === null),
        lsk: alertOrder(alertId, alert),
        json: JSON.stringify(alert),
        v: version,
      };
      const key = unitKey(unit, `${PREFIX.alert}${alertId}`);
      await unlessConflict(access.update('putAlert', key, changes, notNewer(version)));
    },
    async dropAlert(unit, version, alertId) {
      // What is left says at which version it went: a write that was delayed does not bring it back.
      const changes = { lpk: null, lsk: null, json: null, acts: null, v: version };
      const key = unitKey(unit, `${PREFIX.alert}${alertId}`);
      await unlessConflict(access.update('dropAlert', key, changes, notNewer(version)));
    },
    async putActs(unit, version, alertId, acts) {
      const { expression, values } = notNewer(version);
      const condition = { expression: `attribute_exists(json) AND (${expression})`, values };
      const key = unitKey(unit, `${PREFIX.alert}${alertId}`);
      const changes = { acts: JSON.stringify(acts), v: version };
      await unlessConflict(access.update('putActs', key, changes, condition));
    },
    async putTold(unit, alertId) {
      await access.update('putTold', unitKey(unit, `${PREFIX.alert}${alertId}`), { told: true });
    },
    async wasTold(unit, alertId) {
      const item = await access.get('wasTold', unitKey(unit, `${PREFIX.alert}${alertId}`), true);
      return item?.told === true;
    },
    async alert(unit, alertId) {
      const item = await access.get('alert', unitKey(unit, `${PREFIX.alert}${alertId}`), true);
      return item?.json === undefined ? undefined : alertOf(item);
    },
    async alertsOf(unit) {
      // Whoever asks may withdraw what is listed and should not be: one that is missed would stay for good.
      const range = { partition: unitPartition(unit), prefix: PREFIX.alert, fresh: true };
      return (await access.all('alertsOf', range)).filter(({ json }) => json !== undefined).map(alertOf);
    },
    async alerts(companyId, open, page) {
      const range = { partition: LIST.alerts(companyId, open), listed: true, descending: !open };
      const { items, next } = await access.page('alerts', range, page);
      return { items: items.map(alertOf), next };
    },
  };
}

function alertOf({ sk, json = '', acts: kept = '[]' }: Item): StoredAlert {
  const acts = JSON.parse(kept);
  return { alertId: sk.slice(PREFIX.alert.length), alert: JSON.parse(json), acts, ...handlingOf(acts) };
}
