import { createHash } from 'node:crypto';
import {
  DescribeExecutionCommand,
  ExecutionAlreadyExists,
  ExecutionDoesNotExist,
  type SFNClient,
  StartExecutionCommand,
} from '@aws-sdk/client-sfn';
import type { TrialRunner } from '../../../functions/trial/trials.ts';
import type { TrialOrder } from '../../../lib/trial/plan.ts';

/** Of a company's hash in a name: 132 bits. */
const NAME_CHARACTERS = 22;

/**
 * Has trials done by a state machine of AWS Step Functions, an execution each, named for the company and the number: no
 * two executions have one name within 90 days. A start that is repeated with the same rules while it runs counts as the
 * first one, and so one whose answer was lost can be repeated (Step Functions API reference, StartExecution).
 */
export function trialRunner(client: Pick<SFNClient, 'send'>, stateMachineArn: string): TrialRunner {
  return {
    async begin(order) {
      try {
        const name = nameOf(order);
        await client.send(new StartExecutionCommand({ stateMachineArn, name, input: JSON.stringify(order) }));
        return true;
      } catch (error) {
        if (error instanceof ExecutionAlreadyExists) return false;
        throw error;
      }
    },
    async stateOf(trial) {
      // ARNs of executions are those of the state machine with another word and a name more (AWS service authorization
      // reference, resource types of Step Functions).
      const executionArn = `${stateMachineArn.replace(':stateMachine:', ':execution:')}:${nameOf(trial)}`;
      try {
        const { status } = await client.send(new DescribeExecutionCommand({ executionArn }));
        return status === 'RUNNING' ? 'running' : 'ended';
      } catch (error) {
        if (error instanceof ExecutionDoesNotExist) return 'unknown';
        throw error;
      }
    },
  };
}

/** Executions that are logged may have nothing but letters, digits, `-` and `_` in their names: an id may have dots. */
function nameOf({ companyId, trialId }: Pick<TrialOrder, 'companyId' | 'trialId'>): string {
  const company = createHash('sha256').update(companyId).digest('base64url').slice(0, NAME_CHARACTERS);
  return `${company}-${trialId}`;
}
