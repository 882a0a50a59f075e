import { OpenAPIHono } from '@hono/zod-openapi';
import { methodNotAllowed } from 'hono/method-not-allowed';
import type { ArchiveFiles } from '../../lib/archive/files.ts';
import type { Credentials } from '../meters/credentials.ts';
import type { Ports } from '../ports.ts';
import type { Trials } from '../trial/trials.ts';
import { accessOf } from './access.ts';
import type { Api } from './api.ts';
import type { DeadLetters } from './deadLetters.ts';
import { invalid, onFailure } from './failures.ts';
import type { Health, Metrics } from './health.ts';
import type { Identity } from './identity.ts';
import { PRIVATE } from './private.ts';
import { answer, Problem } from './problems.ts';

export interface ApiOptions {
  /** What `hashOf` of the operator's secret gives, when it is asked for; without it nobody is the operator. */
  readonly operatorKeyHash?: (() => Promise<string>) | undefined;
  /** Vouches for people who sign in; without one there are only keys. */
  readonly identity?: Identity | undefined;
  /** Signs the links by which households answer; asked for whenever it is needed. */
  readonly answerSecret: () => Promise<string>;
  /** How meters come to sign in. */
  readonly credentials: Credentials;
  health(): Promise<Health>;
  metrics?: (() => Promise<Metrics>) | undefined;
  readonly deadLetters?: DeadLetters | undefined;
  /** Where reports are; without them accounts are worked out whenever they are asked for. */
  readonly files?: Pick<ArchiveFiles, 'list' | 'open'> | undefined;
  /** Without them rules cannot be tried here. */
  readonly trials?: Trials | undefined;
}

/** What all routes stand on: how they fail, and who may call them. */
export function bareApp(ports: Ports, options: ApiOptions): Api {
  const app = new OpenAPIHono({
    defaultHook: (result) => {
      if (!result.success) throw invalid(result.target, result.error);
    },
  });
  // A HEAD is answered as the GET would be, without its body; a stream must then not go on for nobody.
  app.use(async (c, next) => {
    await next();
    if (c.req.method === 'HEAD') await c.res.body?.cancel();
  });
  app.use(async (c, next) => {
    for (const [name, value] of Object.entries(PRIVATE)) c.header(name, value);
    await next();
  });
  app.use(
    methodNotAllowed({
      app,
      onMethodNotAllowed: (c, methods) =>
        answer(
          c,
          new Problem('method-not-allowed', `Use ${methods.join(' or ')}.`, {
            headers: { allow: methods.join(', ') },
          }),
        ),
    }),
  );
  app.notFound((c) => answer(c, new Problem('route-unknown', 'See /openapi.json for what there is.')));
  app.onError((error, c) => onFailure(error, c, ports.log));

  return { app, ports, access: accessOf(ports, options), published: new Map() };
}
