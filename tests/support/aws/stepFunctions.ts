import * as z from 'zod';
import { jsonService, type LocalService, ServiceException } from './server.ts';

const startSchema = z.object({ stateMachineArn: z.string(), name: z.string(), input: z.string() });
const describeSchema = z.object({ executionArn: z.string() });

/** AWS Step Functions, as far as those see it who start executions: it keeps their inputs, and none ever ends by itself. */
export async function localSteps(): Promise<LocalService & { readonly inputs: Map<string, string> }> {
  const inputs = new Map<string, string>();
  const service = await jsonService('AWSStepFunctions', {
    StartExecution(asked) {
      const { stateMachineArn, name, input } = startSchema.parse(asked);
      const executionArn = `${stateMachineArn.replace(':stateMachine:', ':execution:')}:${name}`;
      inputs.set(executionArn, input);
      return { executionArn, startDate: 1 };
    },
    DescribeExecution(asked) {
      const { executionArn } = describeSchema.parse(asked);
      if (!inputs.has(executionArn)) throw new ServiceException('ExecutionDoesNotExist', executionArn);
      return { executionArn, status: 'RUNNING' };
    },
  });
  return { ...service, inputs };
}
