import {
  DescribeExecutionCommand,
  ExecutionAlreadyExists,
  ExecutionDoesNotExist,
  SFNClient,
  StartExecutionCommand,
} from '@aws-sdk/client-sfn';
import { mockClient } from 'aws-sdk-client-mock';
import { expect, it } from 'vitest';
import { trialsOf } from '../../../functions/trial/trials.ts';
import { trialRunner } from '../../../infra/aws/parts/trialRunner.ts';
import { memoryFiles } from '../../support/memoryFiles.ts';

const MACHINE = 'arn:aws:states:us-east-1:123456789012:stateMachine:brinebell-small-trials';
const EXECUTIONS = 'arn:aws:states:us-east-1:123456789012:execution:brinebell-small-trials:';

/** Step Functions as its reference tells of it: a name is had once, but by the same input while it runs. */
function stepFunctions() {
  const client = mockClient(SFNClient);
  const executions = new Map<
    string,
    { input: string | undefined; status: 'RUNNING' | 'SUCCEEDED' | 'FAILED' }
  >();
  const failure = { $metadata: {}, message: 'no' };
  client.on(StartExecutionCommand).callsFake(({ name, input }) => {
    const known = executions.get(name);
    if (known && (known.status !== 'RUNNING' || known.input !== input))
      throw new ExecutionAlreadyExists(failure);
    executions.set(name, { input, status: 'RUNNING' });
    return { executionArn: `${EXECUTIONS}${name}` };
  });
  client.on(DescribeExecutionCommand).callsFake(({ executionArn }) => {
    const known = executions.get(executionArn.slice(EXECUTIONS.length));
    if (!executionArn.startsWith(EXECUTIONS) || !known) throw new ExecutionDoesNotExist(failure);
    return { status: known.status };
  });
  return { runner: trialRunner(new SFNClient({ region: 'us-east-1' }), MACHINE), executions };
}

it('does one trial of a company at a time, and companies beside each other', async () => {
  const { runner, executions } = stepFunctions();
  const { files } = memoryFiles();
  const trials = trialsOf(files, runner);
  expect(await trials.start('fenwick.water', { overrun: { raise: 0.9 } })).toBe('1');
  expect(await trials.start('fenwick.water', { overrun: { raise: 0.8 } })).toBeUndefined();
  expect(await trials.start('fenwick-water', {})).toBe('1');
  expect(await trials.look('fenwick.water', '1')).toMatchObject({ state: 'running', plan: null });
  expect(await trials.look('fenwick.water', '2')).toBeUndefined();
  // What CloudWatch Logs can tell apart (Step Functions API reference, StartExecution, name).
  for (const name of executions.keys()) expect(name).toMatch(/^[\w-]{1,80}$/);
  const inputs = [...executions.values()].map(({ input }) => JSON.parse(input ?? ''));
  expect(inputs[0]).toEqual({ companyId: 'fenwick.water', trialId: '1', rules: { overrun: { raise: 0.9 } } });

  // It ends before it has left a file: its number is used up all the same.
  for (const execution of executions.values()) execution.status = 'FAILED';
  expect(await trials.look('fenwick.water', '1')).toMatchObject({
    ...{ state: 'failed', plan: null },
    failure: expect.stringContaining('without a word'),
  });
  expect(await trials.start('fenwick.water', {})).toBe('2');
});

it('hands on what else goes wrong', async () => {
  const client = mockClient(SFNClient);
  client.on(StartExecutionCommand).rejects(new Error('no such machine'));
  const runner = trialRunner(new SFNClient({ region: 'us-east-1' }), MACHINE);
  await expect(runner.begin({ companyId: 'a', trialId: '1', rules: {} })).rejects.toThrow('no such machine');
});
