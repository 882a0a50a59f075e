import type { Access } from './access.ts';
import { principalKey } from './keys.ts';
import type { Store } from './store.ts';

/** Who may call. */
export function principalItems(access: Access): Pick<Store, 'putPrincipal' | 'principal' | 'dropPrincipal'> {
  return {
    async putPrincipal(principal) {
      const item = { ...principalKey(principal.name), json: JSON.stringify(principal) };
      await access.put('putPrincipal', item);
    },
    async principal(name) {
      const json = (await access.get('principal', principalKey(name)))?.json;
      return json === undefined ? undefined : JSON.parse(json);
    },
    async dropPrincipal(name) {
      await access.drop('dropPrincipal', principalKey(name));
    },
  };
}
