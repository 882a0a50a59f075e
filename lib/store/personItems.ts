import type { Access } from './access.ts';
import { StoreError } from './errors.ts';
import { unlessConflict } from './failures.ts';
import { LIST, personKey } from './keys.ts';
import type { Store } from './store.ts';

/** The people of the companies, by their mail, which is one person's only. */
export function personItems(access: Access): Pick<Store, 'putPerson' | 'dropPerson' | 'personOf' | 'people'> {
  const people: Store['people'] = async (companyId) => {
    const items = await access.all('people', { partition: LIST.people(companyId), listed: true });
    return items.map(({ json = '' }) => JSON.parse(json).person);
  };
  const ofCompany = (companyId: string) => ({
    expression: 'attribute_not_exists(pk) OR lpk = :list',
    values: { ':list': LIST.people(companyId) },
  });
  return {
    async putPerson(companyId, person) {
      const item = {
        ...personKey(person.mail),
        lpk: LIST.people(companyId),
        lsk: person.personId,
        json: JSON.stringify({ companyId, person }),
      };
      if (!(await unlessConflict(access.put('putPerson', item, ofCompany(companyId)))))
        throw new StoreError('refused', `${person.mail} works for another company: use another address`);
    },
    async dropPerson(companyId, mail) {
      await unlessConflict(access.drop('dropPerson', personKey(mail), ofCompany(companyId)));
    },
    async personOf(mail) {
      const json = (await access.get('personOf', personKey(mail)))?.json;
      return json === undefined ? undefined : JSON.parse(json);
    },
    people,
  };
}
