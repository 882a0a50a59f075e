/**
 * Stands in a bundle for the ways in which the SDK looks for credentials, of which there is one in AWS Lambda: its
 * environment has them for as long as the process lives ("Using Lambda environment variables" in its developer guide).
 *
 * @returns {() => Promise<{ accessKeyId: string, secretAccessKey: string, sessionToken?: string }>}
 */
export function defaultProvider() {
  return async () => {
    const {
      AWS_ACCESS_KEY_ID: accessKeyId,
      AWS_SECRET_ACCESS_KEY: secretAccessKey,
      AWS_SESSION_TOKEN: sessionToken,
    } = process.env;
    if (!accessKeyId || !secretAccessKey) {
      throw new Error('no credentials: set AWS_ACCESS_KEY_ID and AWS_SECRET_ACCESS_KEY, as AWS Lambda does');
    }
    return { accessKeyId, secretAccessKey, ...(sessionToken && { sessionToken }) };
  };
}
