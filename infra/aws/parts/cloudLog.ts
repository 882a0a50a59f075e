import type { Context } from 'aws-lambda';
import type { Ports } from '../../../functions/ports.ts';

type Log = Ports['log'];

/** The log of a function of the cloud: JSON, a line each, which names the invocation that it is of. */
export interface CloudLog extends Log {
  /** What is written from now on is of this invocation. */
  of(invocation: Context): void;
}

export interface CloudLogOptions {
  readonly service: string;
  readonly write: (line: string) => void;
  /** `AWS_LAMBDA_LOG_LEVEL` has what AWS Lambda is told to keep; without it, all but `DEBUG`. */
  readonly env?: Readonly<Record<string, string | undefined>>;
}

/** What AWS Lambda may be told to keep, from the most ("Log-level filtering" in its developer guide). */
const LEVELS = ['TRACE', 'DEBUG', 'INFO', 'WARN', 'ERROR', 'FATAL'] as const;

/**
 * Members are named as Powertools for AWS Lambda names them, so that what is written for its logs reads these too. It takes
 * 5 ms of a start to make its own.
 */
export function cloudLog({ service, write, env = process.env }: CloudLogOptions): CloudLog {
  const least = LEVELS.findIndex((level) => level === (env.AWS_LAMBDA_LOG_LEVEL ?? 'INFO'));
  let names = {};
  let isCold = env.AWS_LAMBDA_INITIALIZATION_TYPE === 'on-demand';
  const writer =
    (level: (typeof LEVELS)[number]): Log['info'] =>
    (input, ...extra) => {
      if (LEVELS.indexOf(level) < least) return;
      const timestamp = new Date().toISOString();
      const xray_trace_id = /Root=([^;]+)/.exec(env._X_AMZN_TRACE_ID ?? '')?.[1];
      const said = [typeof input === 'string' ? { message: input } : input, ...extra.map(membersOf)];
      write(
        JSON.stringify(
          Object.assign({ level, message: '', timestamp, service, ...names, xray_trace_id }, ...said),
          asJson,
        ),
      );
    };
  return {
    of(context) {
      names = {
        cold_start: isCold,
        function_arn: context.invokedFunctionArn,
        function_memory_size: context.memoryLimitInMB,
        function_name: context.functionName,
        function_request_id: context.awsRequestId,
      };
      isCold = false;
    },
    debug: writer('DEBUG'),
    info: writer('INFO'),
    warn: writer('WARN'),
    error: writer('ERROR'),
  };
}

function membersOf(about: string | object): object {
  if (about instanceof Error) return { error: about };
  return typeof about === 'string' ? { extra: about } : about;
}

/** Of an error, JSON has nothing by itself; of a whole number that is too large for it, no form at all. */
function asJson(_name: string, value: unknown): unknown {
  if (typeof value === 'bigint') return String(value);
  if (!(value instanceof Error)) return value;
  const { name, message, stack, cause } = value;
  return { name, message, stack, cause };
}
