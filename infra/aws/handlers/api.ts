import { handle } from 'hono/aws-lambda';
import { oidcIdentity } from '../../../functions/api/identity.ts';
import { apiOnDemand } from '../../../functions/api/onDemand.ts';
import { hashOf } from '../../../functions/secrets.ts';
import { ENVIRONMENT } from '../environment.ts';
import {
  credentialsWhenAsked,
  deadLettersWhenAsked,
  filesWhenAsked,
  trialsWhenAsked,
} from '../parts/apiParts.ts';
import { entry } from '../parts/entry.ts';
import { isBinary } from '../parts/mediaTypes.ts';
import { outletsOf } from '../parts/outlets.ts';
import { portsOf } from '../parts/ports.ts';
import { secret } from '../parts/secrets.ts';
import { setting } from '../parts/setting.ts';

const ports = portsOf('api', outletsOf('api'));
const operatorSecret = secret(setting(ENVIRONMENT.operatorKey));
const issuer = setting(ENVIRONMENT.issuer);

const app = apiOnDemand(ports, {
  operatorKeyHash: async () => hashOf(await operatorSecret()),
  answerSecret: secret(setting(ENVIRONMENT.answerKey)),
  identity: oidcIdentity({
    issuer,
    clientId: setting(ENVIRONMENT.client),
    scope: 'openid email',
    // Where Amazon Cognito has them ("Verifying JSON web tokens" in its developer guide).
    jwksUri: `${issuer}/.well-known/jwks.json`,
  }),
  credentials: credentialsWhenAsked(ports),
  deadLetters: deadLettersWhenAsked(),
  files: filesWhenAsked(),
  trials: trialsWhenAsked(),
  // Well is the service whose table answers.
  async health() {
    await ports.store.principal('operator');
    return { ok: true };
  },
});

export const handler = entry(ports, handle(app, { isContentTypeBinary: isBinary }));
