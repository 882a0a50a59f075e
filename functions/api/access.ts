import type { Context } from 'hono';
import { createMiddleware } from 'hono/factory';
import type { Ports } from '../ports.ts';
import { fits } from '../secrets.ts';
import { takeIn } from './body.ts';
import { Problem } from './problems.ts';

/** Somebody with a key of a company. The company is the key's: no request can name another. */
export interface Member {
  readonly name: string;
  readonly companyId: string;
}

/** Who may send events: a company, or one of its meters, which may speak for its own unit only. */
export interface Sender extends Member {
  readonly unitId: string | null;
}

/** The name under which the operator's secret is presented. No company's key and no meter is called so. */
const OPERATOR = 'operator';
/** A name is `{companyId}/{unitId}` at the longest, or a company's id and a little more. */
const LONGEST_NAME = 160;

/** The schemes by which the OpenAPI document tells who may call what. */
export const SECURITY_SCHEMES = {
  companyKey: 'A key of a company, `{name}.{secret}`: reads and changes what is that company’s.',
  meterKey: 'A meter, `{companyId}/{unitId}.{secret}`: sends events of its own unit.',
  operatorKey: 'The operator of the service, `operator.{secret}`: makes companies and their keys.',
} as const;

export type Access = ReturnType<typeof accessOf>;

/** What is spread into each route to say who may call it. Only then is its body read, up to a limit. */
export function accessOf(ports: Ports, operatorKeyHash: string | undefined) {
  const sender = async (c: Context): Promise<Sender> => {
    const { name, secret } = presented(c);
    const principal = name === OPERATOR ? undefined : await ports.store.principal(name);
    if (fits(secret, principal?.secretHash) && principal) return principal;
    if (name === OPERATOR && fits(secret, operatorKeyHash)) throw notForThis('a company’s key');
    throw wrongKey();
  };
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
    company: {
      security: [{ companyKey: [] }],
      middleware: createMiddleware<{ Variables: { caller: Member } }>(async (c, next) => {
        const { name, companyId, unitId } = await sender(c);
        if (unitId !== null) throw notForThis('a company’s key: a meter may only send events');
        c.set('caller', { name, companyId });
        await takeIn(c);
        await next();
      }),
    },
    operator: {
      security: [{ operatorKey: [] }],
      middleware: createMiddleware(async (c, next) => {
        const { name, secret } = presented(c);
        if (name !== OPERATOR) {
          await sender(c);
          throw notForThis('the operator’s key');
        }
        if (!fits(secret, operatorKeyHash)) throw wrongKey();
        await takeIn(c);
        await next();
      }),
    },
  };
}

/** The name and secret that a request carries. The secret has no dot; ids have. */
function presented(c: Context): { name: string; secret: string } {
  const header = c.req.header('authorization');
  if (header === undefined) {
    throw new Problem('key-missing', 'Send the header Authorization: Bearer {name}.{secret}.', {
      headers: { 'www-authenticate': 'Bearer realm="brinebell"' },
    });
  }
  const [scheme = '', token = ''] = header.split(' ', 2);
  const dot = token.lastIndexOf('.');
  if (scheme.toLowerCase() !== 'bearer' || dot < 1 || dot > LONGEST_NAME) throw wrongKey();
  return { name: token.slice(0, dot), secret: token.slice(dot + 1) };
}

function wrongKey(): Problem {
  return new Problem('key-wrong', 'Check the key, which is {name}.{secret}, or ask for a new one.', {
    headers: { 'www-authenticate': 'Bearer realm="brinebell", error="invalid_token"' },
  });
}

function notForThis(needed: string): Problem {
  return new Problem('key-not-for-this', `This needs ${needed}.`, {
    headers: { 'www-authenticate': 'Bearer realm="brinebell", error="insufficient_scope"' },
  });
}
