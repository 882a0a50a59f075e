import * as z from 'zod';
import { STAGES, type Stage } from './stages.ts';

/** What is asked for by `--context` cannot be. */
export class ContextError extends Error {
  override readonly name = 'ContextError';
}

const wishesSchema = z
  .strictObject({
    stage: z.enum(['small', 'large']),
    operatorMail: z.email().optional(),
    mailFrom: z.email().optional(),
    objectLockDays: z.coerce.number().int().min(1).max(36_500).optional(),
    budgetDollars: z.coerce.number().positive().optional(),
    table: z
      .string()
      .regex(/^[A-Za-z0-9_.-]{3,255}$/)
      .optional(),
    domain: z
      .string()
      .regex(/^[a-z0-9-]+(\.[a-z0-9-]+)+$/)
      .optional(),
    certificateArn: z
      .string()
      .regex(/^arn:[\w-]+:acm:us-east-1:\d{12}:certificate\/[\w-]+$/)
      .optional(),
  })
  .refine(({ domain, certificateArn }) => (domain === undefined) === (certificateArn === undefined), {
    message: 'domain and certificateArn go together',
    path: ['domain'],
  });

/** What a deployment is asked to be. */
export interface Wishes {
  readonly stage: Stage;
  /** Whom alarms and the budget tell. */
  readonly operatorMail?: string | undefined;
  /** What mail to people comes from; without it none is sent. */
  readonly mailFrom?: string | undefined;
  /** How long nobody can delete or overwrite a version of a file, days; without it they can. */
  readonly objectLockDays?: number | undefined;
  /** What a month may cost, US dollars; by default the stage's. */
  readonly budgetDollars?: number | undefined;
  /** The table to work on, where that is not the one that the stacks made: one that was restored. */
  readonly table?: string | undefined;
  /** The name by which people reach the console, and its certificate, which Amazon CloudFront wants in us-east-1. */
  readonly domain?: string | undefined;
  readonly certificateArn?: string | undefined;
}

const HELP = `Say for example: npx cdk deploy --all --context stage=small
  stage           small (one company) or large (a large fleet)
  operatorMail    whom alarms tell, by mail
  mailFrom        the address that mail to people comes from
  objectLockDays  how long files can be neither deleted nor overwritten
  budgetDollars   what a month may cost
  table           the name of a table that was restored, to work on from now on
  domain, certificateArn   the console's own name, and its certificate in us-east-1`;

/** The toolkit's own settings, which stand in the same place. */
const TOOLKITS_OWN = /^(@|aws:|aws-cdk:|cdk-)/;

/**
 * Reads what was asked for from the values of `--context`.
 *
 * @throws ContextError if something is missing, unknown or impossible; it says what there is
 */
export function wishesOf(context: Readonly<Record<string, unknown>>): Wishes {
  const ours = Object.fromEntries(Object.entries(context).filter(([key]) => !TOOLKITS_OWN.test(key)));
  const { data, error } = wishesSchema.safeParse(ours);
  if (!data) {
    const issues = error.issues.flatMap((issue) =>
      issue.code === 'unrecognized_keys'
        ? issue.keys.map((key) => `  --context ${key}: there is no such`)
        : [`  --context ${issue.path.join('.')}: ${issue.message}`],
    );
    throw new ContextError(`This cannot be deployed:\n${issues.join('\n')}\n${HELP}`);
  }
  return { ...data, stage: STAGES[data.stage] };
}
