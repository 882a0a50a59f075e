import * as oauth from 'oauth4webapi';
import { keepJourney, ownPath } from './journey.ts';
import { findProvider, redirectUri } from './provider.ts';

/** Sends the browser to the provider, with code and PKCE (RFC 7636); it comes back to `/signed-in`. */
export async function beginSignIn(back: string): Promise<void> {
  const { server, client, scope } = await findProvider();
  if (!server.authorization_endpoint) throw new Error('The provider does not say where people sign in.');
  const journey = {
    state: oauth.generateRandomState(),
    verifier: oauth.generateRandomCodeVerifier(),
    back: ownPath(back),
  };
  keepJourney(journey);
  const address = new URL(server.authorization_endpoint);
  const parameters = {
    client_id: client.client_id,
    redirect_uri: redirectUri(),
    response_type: 'code',
    scope,
    code_challenge: await oauth.calculatePKCECodeChallenge(journey.verifier),
    code_challenge_method: 'S256',
    state: journey.state,
  };
  for (const [name, value] of Object.entries(parameters)) address.searchParams.set(name, value);
  location.assign(address);
}
