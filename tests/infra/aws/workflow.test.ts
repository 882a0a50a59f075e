import { describe, expect, it } from 'vitest';
import * as z from 'zod';
import { STAGES } from '../../../infra/aws/stages.ts';
import { synthAll } from './synthed.ts';

const stateSchema = z.object({
  Type: z.string(),
  Parameters: z.record(z.string(), z.unknown()).optional(),
  Retry: z.array(z.object({ ErrorEquals: z.array(z.string()), MaxAttempts: z.number() })).optional(),
});
const definitionSchema = z.object({
  StartAt: z.literal('Plan'),
  States: z.object({
    Plan: stateSchema.extend({ Next: z.literal('Each'), OutputPath: z.literal('$.Payload') }),
    Each: stateSchema.extend({
      ...{ Next: z.literal('Sum'), MaxConcurrency: z.number(), ToleratedFailurePercentage: z.number() },
      ResultPath: z.null(),
      ItemReader: z.object({
        Resource: z.literal('arn:<AWS::Partition>:states:::s3:getObject'),
        Parameters: z.strictObject({ Bucket: z.literal('<Files/Files>'), 'Key.$': z.literal('$.items') }),
      }),
      ItemProcessor: z.object({
        ProcessorConfig: z.strictObject({
          Mode: z.literal('DISTRIBUTED'),
          ExecutionType: z.literal('STANDARD'),
        }),
        States: z.object({ Run: stateSchema.extend({ End: z.literal(true), OutputPath: z.null() }) }),
      }),
    }),
    Sum: stateSchema.extend({ End: z.literal(true) }),
  }),
});

const all = synthAll();

describe.each(all.filter(([, { topology }]) => topology.trial))(
  '%s: trials',
  (_, { templates, topology, stage }) => {
    const { stack, Properties } = templates.only('AWS::StepFunctions::StateMachine');
    const { States } = definitionSchema.parse(JSON.parse(templates.told(stack, Properties.DefinitionString)));

    it('plans once, runs each range of units by itself, and sums', () => {
      const { Run } = States.Each.ItemProcessor.States;
      const called = [States.Plan, Run, States.Sum].map(({ Parameters }) => Parameters?.FunctionName);
      expect(called).toEqual(
        ['TrialPlan', 'TrialRun', 'TrialSum'].map((name) => `<Functions/${name}/Function.Arn>`),
      );
      for (const { Retry } of [States.Plan, Run, States.Sum]) {
        // `States.ALL` stands alone and last, or the definition is refused (Amazon States Language, "Errors").
        const last = Retry?.at(-1);
        expect(last?.ErrorEquals).toEqual(['States.ALL']);
        expect(last?.MaxAttempts).toBe((topology.trial?.attempts ?? 0) - 1);
        // To be refused a place is no attempt.
        expect(Retry?.[0]?.ErrorEquals).toContain('Lambda.TooManyRequestsException');
        expect(Retry?.[0]?.MaxAttempts).toBeGreaterThan(5);
      }
      expect(States.Each.MaxConcurrency).toBe(
        Math.min(topology.trial?.concurrency ?? 0, STAGES[stage].trialRangesAtOnce),
      );
      expect(States.Each.ToleratedFailurePercentage).toBe(topology.trial?.toleratedFailurePercentage);
    });

    it('may call those three, read its list, and begin its own parts', () => {
      const role = templates.only('AWS::IAM::Role', 'Workflow/Role');
      const policies = JSON.stringify(role.Properties.Policies);
      for (const act of ['lambda:InvokeFunction', 's3:GetObject', 'states:StartExecution'])
        expect(policies).toContain(act);
      expect(policies).not.toMatch(/s3:Put|dynamodb:|sqs:/);
    });
  },
);

it('is not there where the topology has no trials', () => {
  for (const [, { topology, templates }] of all)
    expect(templates.stacks.includes('Workflow')).toBe(topology.trial !== undefined);
});
