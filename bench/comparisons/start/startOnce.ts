import { fork } from 'node:child_process';
import { once } from 'node:events';
import { LAMBDA_ENVIRONMENT } from '../../../tests/support/lambda/lambda.ts';
import type { Case } from './cases.ts';

/** One start of a function. */
export interface Start {
  /** From before its process is made to its first answer. */
  readonly wallMs: number;
  /** Of processors, by its process until then, and until it was loaded. */
  readonly cpuMs: number;
  readonly loadedCpuMs: number;
}

/** How often each case has been started. */
const starts = new Map<Case, number>();

/** No start takes nearly as long, however busy the machine is. */
const MOST_SECONDS = 60;

type Message = { ready: true; cpuMs: number } | { answer: unknown; cpuMs: number } | { failure: string };

/**
 * Starts a function in a fresh process and asks it once.
 *
 * @param execArgv options of the runtime; with some, it ends by itself, so that it writes what they ask for
 * @throws Error if it fails, ends before it answers, or does not answer within a minute
 */
export async function startOnce(
  bundle: string,
  each: Case,
  env: Readonly<Record<string, string>>,
  execArgv: readonly string[] = [],
): Promise<Start> {
  const { name, lambda } = each;
  const before = starts.get(each) ?? 0;
  starts.set(each, before + 1);
  const event = typeof each.event === 'function' ? each.event(before) : each.event;
  const began = performance.now();
  const child = fork('tests/support/lambda/runtime.js', [bundle], {
    env: { ...LAMBDA_ENVIRONMENT, AWS_LAMBDA_FUNCTION_NAME: lambda, ...env },
    stdio: ['ignore', 'ignore', 'ignore', 'ipc'],
    execArgv: [...execArgv],
  });
  let loadedCpuMs = 0;
  const ended = once(child, 'exit');
  let late: NodeJS.Timeout | undefined;
  try {
    const found = await new Promise<Start>((resolve, reject) => {
      late = setTimeout(() => {
        child.kill('SIGKILL');
        reject(new Error(`${name}: no answer within ${MOST_SECONDS} seconds`));
      }, MOST_SECONDS * 1000);
      child.on('exit', () => reject(new Error(`${name}: the process has ended`)));
      child.on('message', (message: Message) => {
        if ('failure' in message) reject(new Error(`${name}: ${message.failure}`));
        else if ('ready' in message) {
          loadedCpuMs = message.cpuMs;
          child.send({ event, timeoutSeconds: 60 });
        } else if (isWell(message.answer)) {
          resolve({ wallMs: performance.now() - began, cpuMs: message.cpuMs, loadedCpuMs });
        } else reject(new Error(`${name}: ${JSON.stringify(message.answer)}`));
      });
    });
    if (execArgv.length > 0) {
      child.disconnect();
      await ended;
    }
    return found;
  } finally {
    clearTimeout(late);
    child.kill();
  }
}

/** A batch of which nothing comes back, an answer that is no problem, or none at all. */
function isWell(answer: unknown): boolean {
  if (typeof answer !== 'object' || answer === null) return true;
  if ('batchItemFailures' in answer) return JSON.stringify(answer.batchItemFailures) === '[]';
  return !('statusCode' in answer) || Number(answer.statusCode) < 300;
}
