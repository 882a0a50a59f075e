import type { Me, Role } from '../api/types.ts';

/** What somebody may do. The service judges; this only spares people what it would refuse. */
const MAY = {
  /** Acknowledge, shelve, take out of service, plan visits, send again what got stuck. */
  desk: ['dispatcher', 'owner'],
  /** Say that a household is away or at home, record a visit. */
  field: ['dispatcher', 'technician', 'owner'],
  /** Change people and settings of the company. */
  owner: ['owner'],
} as const satisfies Record<string, readonly Role[]>;

export type Act = keyof typeof MAY;

/** The role of whoever asks. A key of the company may do all that an owner may. */
export function roleOf({ person }: Me): Role {
  return person?.role ?? 'owner';
}

export function can(me: Me, act: Act): boolean {
  const roles: readonly Role[] = MAY[act];
  return roles.includes(roleOf(me));
}
