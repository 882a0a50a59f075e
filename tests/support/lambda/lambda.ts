import { type ChildProcess, fork } from 'node:child_process';
import { once } from 'node:events';
import { fileURLToPath } from 'node:url';
import { FUNCTIONS, type FunctionName } from '../../../infra/topology.ts';

const RUNTIME = fileURLToPath(new URL('runtime.js', import.meta.url));

/** A function in a fresh process of its own, as AWS Lambda would run it. */
export interface Lambda {
  /**
   * Invokes it once, and waits for its answer.
   *
   * @throws Error with the words of whatever the function throws
   */
  invoke(event: object): Promise<unknown>;
  /** What it has written to its log, each line of which is JSON. */
  log(): readonly Readonly<Record<string, unknown>>[];
  stop(): Promise<void>;
}

type Message = { ready: true } | { answer: unknown } | { failure: string };

/** What AWS Lambda sets for every function ("Using Lambda environment variables" in its developer guide), as far as it matters. */
export const LAMBDA_ENVIRONMENT = {
  TZ: ':UTC',
  AWS_REGION: 'us-east-2',
  AWS_ACCESS_KEY_ID: 'ASIAEXAMPLE',
  AWS_SECRET_ACCESS_KEY: 'secret',
  AWS_SESSION_TOKEN: 'token',
  AWS_EXECUTION_ENV: 'AWS_Lambda_nodejs24.x',
  AWS_LAMBDA_FUNCTION_MEMORY_SIZE: '512',
  AWS_LAMBDA_INITIALIZATION_TYPE: 'on-demand',
  _X_AMZN_TRACE_ID: 'Root=1-5759e988-bd862e3fe1be46a994272793;Parent=53995c3f42cd8ad8;Sampled=1',
  // Of the SDK, that node 20 is near its end.
  NODE_NO_WARNINGS: '1',
} as const;

/**
 * Starts a function.
 *
 * @param env beside what AWS Lambda sets; nothing of this process is in it
 */
export async function startLambda(
  name: FunctionName,
  bundle: string,
  env: Readonly<Record<string, string>>,
): Promise<Lambda> {
  const child = fork(RUNTIME, [bundle], {
    env: { ...LAMBDA_ENVIRONMENT, AWS_LAMBDA_FUNCTION_NAME: name, ...env },
    silent: true,
    execArgv: [],
  });
  let output = '';
  for (const stream of [child.stdout, child.stderr]) {
    stream?.setEncoding('utf8').on('data', (text: string) => {
      output += text;
    });
  }
  const first = await said(child);
  if ('failure' in first) throw new Error(`${name} does not start: ${first.failure}`);
  return {
    async invoke(event) {
      child.send({ event, timeoutSeconds: FUNCTIONS[name].timeoutSeconds });
      const message = await said(child);
      if ('answer' in message) return message.answer;
      throw new Error('failure' in message ? message.failure : `${name} did not answer`);
    },
    log: () =>
      output
        .split('\n')
        .filter((line) => line !== '')
        .map((line) => JSON.parse(line)),
    async stop() {
      if (child.exitCode !== null) return;
      child.kill();
      await once(child, 'exit');
    },
  };
}

async function said(child: ChildProcess): Promise<Message> {
  const heard = new AbortController();
  try {
    const [message] = await Promise.race([
      once(child, 'message', heard),
      once(child, 'exit', heard).then(() => [{ failure: 'the process has ended' }]),
    ]);
    return message;
  } finally {
    heard.abort();
  }
}
