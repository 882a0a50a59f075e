import { Logger } from '@aws-lambda-powertools/logger';
import type { FunctionName } from '../../topology.ts';

/** The log of a function. */
export function logOf(name: FunctionName): Logger {
  return new Logger({ serviceName: name });
}
