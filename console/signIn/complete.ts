import * as oauth from 'oauth4webapi';
import { takeJourney } from './journey.ts';
import { findProvider, redirectUri } from './provider.ts';
import { keepSession } from './session.ts';

/**
 * Changes the code that the provider gave for an access token. Returns the path of the page that was wanted.
 *
 * @throws if the provider refused, or this tab never began to sign in
 */
export async function completeSignIn(): Promise<string> {
  const journey = takeJourney();
  if (!journey) throw new Error('This tab did not begin to sign in. Sign in again.');
  const { server, client, options } = await findProvider();
  const parameters = oauth.validateAuthResponse(server, client, new URL(location.href), journey.state);
  const answer = await oauth.authorizationCodeGrantRequest(
    server,
    client,
    oauth.None(),
    parameters,
    redirectUri(),
    journey.verifier,
    options,
  );
  const { access_token: token } = await oauth.processAuthorizationCodeResponse(server, client, answer);
  keepSession(token);
  return journey.back;
}
