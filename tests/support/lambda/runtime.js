// What AWS Lambda's runtime for Node does, as far as a function can tell: `node runtime.js BUNDLE` loads the function that
// is in a bundle, tells its parent when it has, and calls it for each event that the parent sends, one at a time.
import { pathToFileURL } from 'node:url';

const [, , bundle = ''] = process.argv;
const send = (/** @type {object} */ message) => process.send?.(message);

try {
  const { handler } = await import(pathToFileURL(bundle).href);
  process.on('message', async (/** @type {{ event: unknown, timeoutSeconds: number }} */ invocation) => {
    try {
      const answer = await handler(invocation.event, contextOf(invocation.timeoutSeconds));
      // What is answered goes on as JSON, of which nothing is null.
      send({ answer: JSON.parse(JSON.stringify(answer ?? null)), cpuMs: cpuMs() });
    } catch (error) {
      send({ failure: error instanceof Error ? `${error.name}: ${error.message}` : String(error) });
    }
  });
  send({ ready: true, cpuMs: cpuMs() });
} catch (error) {
  send({ failure: error instanceof Error ? (error.stack ?? error.message) : String(error) });
  process.exitCode = 1;
}

/** What the process has used of processors so far, milliseconds. */
function cpuMs() {
  const { user, system } = process.cpuUsage();
  return (user + system) / 1000;
}

/**
 * "AWS Lambda context object in Node.js", AWS Lambda developer guide.
 *
 * @param {number} timeoutSeconds
 */
function contextOf(timeoutSeconds) {
  const ends = performance.now() + timeoutSeconds * 1000;
  const name = process.env.AWS_LAMBDA_FUNCTION_NAME;
  return {
    callbackWaitsForEmptyEventLoop: true,
    functionName: name,
    functionVersion: '$LATEST',
    invokedFunctionArn: `arn:aws:lambda:us-east-2:123456789012:function:${name}`,
    memoryLimitInMB: '512',
    awsRequestId: crypto.randomUUID(),
    logGroupName: `/aws/lambda/${name}`,
    logStreamName: '2025/01/01/[$LATEST]0123456789abcdef0123456789abcdef',
    getRemainingTimeInMillis: () => Math.max(0, Math.floor(ends - performance.now())),
  };
}
