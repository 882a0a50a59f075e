import type { Store, UnitRef } from '../../lib/store/store.ts';
import { type Credential, topicOf } from '../../shared/credential.ts';
import { hashOf, newSecret } from '../secrets.ts';

/** How meters come to sign in with the broker, whichever broker that is. */
export interface Credentials {
  /** Whether the meter of a unit can sign in, or has been given what it needs to. */
  has(unit: UnitRef): Promise<boolean>;
  /**
   * Makes a new credential, which is shown this once. What was made before is valid no longer once the meter has taken
   * the new one up, or at once where there is nothing to take up.
   *
   * @throws ThingNameError where the broker cannot name a meter by such long ids
   */
  issue(unit: UnitRef): Promise<Credential>;
  /** Makes everything that was made for the unit's meter worthless. */
  revoke(unit: UnitRef): Promise<void>;
}

/** User names and passwords, of which the store keeps a hash. */
export function passwordCredentials(
  store: Pick<Store, 'putPrincipal' | 'principal' | 'dropPrincipal'>,
): Credentials {
  const nameOf = ({ companyId, unitId }: UnitRef) => `${companyId}/${unitId}`;
  return {
    has: async (unit) => (await store.principal(nameOf(unit))) !== undefined,
    async issue({ companyId, unitId }) {
      const username = nameOf({ companyId, unitId });
      const password = newSecret();
      await store.putPrincipal({ companyId, unitId, name: username, secretHash: hashOf(password) });
      return { kind: 'password', username, password, topic: topicOf(unitId) };
    },
    revoke: (unit) => store.dropPrincipal(nameOf(unit)),
  };
}
