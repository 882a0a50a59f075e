import * as oauth from 'oauth4webapi';
import { service } from '../api/client.ts';

/** The OpenID provider that the service trusts, as it describes itself, and our client there. */
export interface Provider {
  readonly server: oauth.AuthorizationServer;
  readonly client: oauth.Client;
  readonly scope: string;
  /** The library refuses http, which is all that a service on one's own machine has. */
  readonly options: { readonly [oauth.allowInsecureRequests]: boolean };
}

/** @throws if the service or the provider does not answer as it should */
export async function findProvider(): Promise<Provider> {
  const { data } = await service.GET('/v1/sign-in');
  if (!data) throw new Error('The service did not say where to sign in.');
  const issuer = new URL(data.issuer);
  const options = { [oauth.allowInsecureRequests]: issuer.protocol === 'http:' };
  const described = await oauth.discoveryRequest(issuer, options);
  const server = await oauth.processDiscoveryResponse(issuer, described);
  return { server, client: { client_id: data.clientId }, scope: data.scope, options };
}

/** Where the provider sends people back to. */
export function redirectUri(): string {
  return `${location.origin}/signed-in`;
}
