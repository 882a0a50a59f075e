import type { Context } from 'hono';
import { createMiddleware } from 'hono/factory';
import type { Person } from '../../lib/store/person.ts';
import { ROLES, type Role } from '../../lib/store/roles.ts';
import type { Ports } from '../ports.ts';
import { fits } from '../secrets.ts';
import { audited } from './audited.ts';
import { takeIn } from './body.ts';
import { type Identity, isToken } from './identity.ts';
import { Problem } from './problems.ts';

/** Somebody of a company: with one of its keys, or signed in. The company is theirs: no request can name another. */
export interface Member {
  /** Of the key, or the person. */
  readonly name: string;
  readonly companyId: string;
  /** Who has signed in; null for a key. */
  readonly person: Person | null;
}

/** Who may send events: a company, or one of its meters, which may speak for its own unit only. */
export interface Sender {
  readonly name: string;
  readonly companyId: string;
  readonly unitId: string | null;
}

/** The name under which the operator's secret is presented. No company's key and no meter is called so. */
const OPERATOR = 'operator';
/** A name is `{companyId}/{unitId}` at the longest, or a company's id and a little more. */
const LONGEST_NAME = 160;

/** The schemes by which the OpenAPI document tells who may call what. */
export const SECURITY_SCHEMES = {
  companyKey: 'A key of a company, `{name}.{secret}`: reads and changes what is that company’s.',
  person:
    'Somebody of a company who has signed in: an access token of the OpenID provider. What roles may, is listed.',
  meterKey: 'A meter, `{companyId}/{unitId}.{secret}`: sends events of its own unit.',
  operatorKey: 'The operator of the service, `operator.{secret}`: makes companies and their keys.',
} as const;

export type Access = ReturnType<typeof accessOf>;

export interface AccessOptions {
  readonly operatorKeyHash?: (() => Promise<string>) | undefined;
  readonly identity?: Identity | undefined;
}

/** What is spread into each route to say who may call it. Only then is its body read, up to a limit. */
export function accessOf(ports: Ports, { operatorKeyHash, identity }: AccessOptions) {
  const sender = async (c: Context): Promise<Sender> => {
    const { name, secret } = presented(c);
    const principal = name === OPERATOR ? undefined : await ports.store.principal(name);
    if (fits(secret, principal?.secretHash) && principal) return principal;
    if (name === OPERATOR && fits(secret, await operatorKeyHash?.())) throw notForThis('a company’s key');
    throw wrongKey();
  };

  const signedIn = async (token: string, by: Identity): Promise<Member> => {
    const mail = await by.mailOf(token);
    if (mail === undefined) throw signInAgain();
    const known = await ports.store.personOf(mail);
    if (!known) throw new Problem('person-unknown', `Ask the owner of the company to add ${mail}.`);
    const { person, companyId } = known;
    return { name: person.name, companyId, person };
  };

  const member = async (c: Context, roles: readonly Role[]): Promise<Member> => {
    const token = bearer(c);
    if (identity && isToken(token)) {
      const found = await signedIn(token, identity);
      if (found.person && !roles.includes(found.person.role)) {
        throw new Problem('role-not-for-this', `This is for the ${roles.join(' or the ')}.`);
      }
      return found;
    }
    const { name, companyId, unitId } = await sender(c);
    if (unitId !== null) throw notForThis('a company’s key: a meter may only send events');
    return { name, companyId, person: null };
  };

  const admit = (judge: (c: Context) => Promise<Member>) =>
    createMiddleware<{ Variables: { caller: Member } }>(async (c, next) => {
      let caller = await judge(c);
      if (c.req.raw.body) {
        // A body may take its time: whoever has been taken off meanwhile does nothing more.
        await takeIn(c);
        caller = await judge(c);
      }
      c.set('caller', caller);
      await audited(c, ports, caller, next);
    });

  /** Keys of the company, and people of these roles. What changes anything is written down. */
  const membersOf = (...roles: readonly Role[]) => ({
    security: [{ companyKey: [] }, { person: [...roles] }],
    middleware: admit((c) => member(c, roles)),
  });

  return {
    sender: {
      security: [{ companyKey: [] }, { meterKey: [] }],
      middleware: createMiddleware<{ Variables: { caller: Sender } }>(async (c, next) => {
        const { name, companyId, unitId } = await sender(c);
        c.set('caller', { name, companyId, unitId });
        await takeIn(c);
        await next();
      }),
    },
    /** All who look. */
    company: membersOf(...ROLES),
    /** Those who watch the fleet. */
    desk: membersOf('dispatcher', 'owner'),
    /** Those and the ones who go there. */
    field: membersOf('dispatcher', 'technician', 'owner'),
    /** Whether whoever asked for something that goes on may still have it. */
    still: (c: Context): Promise<boolean> =>
      member(c, ROLES).then(
        () => true,
        () => false,
      ),
    /** Whoever has signed in. */
    person: {
      security: [{ person: [...ROLES] }],
      middleware: admit(async (c) => {
        const caller = await member(c, ROLES);
        if (!caller.person) throw notForThis('somebody who has signed in');
        return caller;
      }),
    },
    /** Whoever answers for the company's settings and people. */
    owner: membersOf('owner'),
    operator: {
      security: [{ operatorKey: [] }],
      middleware: createMiddleware(async (c, next) => {
        const { name, secret } = presented(c);
        if (name !== OPERATOR) {
          await sender(c);
          throw notForThis('the operator’s key');
        }
        if (!fits(secret, await operatorKeyHash?.())) throw wrongKey();
        await takeIn(c);
        await next();
      }),
    },
  };
}

/** The key or token that a request carries. */
function bearer(c: Context): string {
  const header = c.req.header('authorization');
  if (header === undefined) {
    throw new Problem('key-missing', 'Send the header Authorization: Bearer {name}.{secret}, or sign in.', {
      headers: { 'www-authenticate': 'Bearer realm="brinebell"' },
    });
  }
  const [scheme = '', token = ''] = header.split(' ', 2);
  if (scheme.toLowerCase() !== 'bearer') throw wrongKey();
  return token;
}

/** The name and secret of a key. The secret has no dot; ids have. */
function presented(c: Context): { name: string; secret: string } {
  const token = bearer(c);
  const dot = token.lastIndexOf('.');
  if (dot < 1 || dot > LONGEST_NAME) throw wrongKey();
  return { name: token.slice(0, dot), secret: token.slice(dot + 1) };
}

function wrongKey(): Problem {
  return new Problem('key-wrong', 'Check the key, which is {name}.{secret}, or ask for a new one.', {
    headers: { 'www-authenticate': 'Bearer realm="brinebell", error="invalid_token"' },
  });
}

function signInAgain(): Problem {
  return new Problem('sign-in-over', 'Sign in again.', {
    headers: { 'www-authenticate': 'Bearer realm="brinebell", error="invalid_token"' },
  });
}

function notForThis(needed: string): Problem {
  return new Problem('key-not-for-this', `This needs ${needed}.`, {
    headers: { 'www-authenticate': 'Bearer realm="brinebell", error="insufficient_scope"' },
  });
}
