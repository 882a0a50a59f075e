import type { PreTokenGenerationV2TriggerEvent } from 'aws-lambda';

/**
 * The function `claims`: has Amazon Cognito put into access tokens whose they are. By itself it writes a mail address into
 * identity tokens only, and the API believes access tokens. An address is verified only where Cognito says so.
 */
export function claims(event: PreTokenGenerationV2TriggerEvent): PreTokenGenerationV2TriggerEvent {
  const { email, email_verified: verified } = event.request.userAttributes;
  if (email === undefined) return event;
  const claimsToAddOrOverride = { email, email_verified: String(verified === 'true') };
  return {
    ...event,
    response: {
      ...event.response,
      claimsAndScopeOverrideDetails: { accessTokenGeneration: { claimsToAddOrOverride } },
    },
  };
}
