import type { FunctionName, QueueName } from '../topology.ts';

/** How many meters a stage is for: what is many for one company is few for a large fleet. */
export type FleetSize = 'small' | 'large';

/** A part of the topology where a metric's dimension wants its name; the stacks know what it is called. */
export type NamedPart =
  | { readonly queue: QueueName }
  | { readonly deadLettersOf: QueueName }
  | { readonly function: FunctionName }
  | { readonly api: 'people' | 'machines' }
  | { readonly only: 'table' | 'list-index' | 'meter-rule' | 'undelivered' | 'failed-runs' };

/** One metric of Amazon CloudWatch. */
export interface MetricSpec {
  readonly namespace: string;
  readonly metric: string;
  readonly statistic: 'Sum' | 'Average' | 'Maximum' | 'p95';
  readonly dimensions: Readonly<Record<string, NamedPart | string>>;
  /** Where its name and dimensions are published. */
  readonly source: string;
}

/** What is compared: metrics added up, or the share that some have in others. */
export type AlarmValue =
  | { readonly sum: readonly MetricSpec[] }
  | {
      readonly share: readonly MetricSpec[];
      readonly in: readonly MetricSpec[];
      /** With fewer in a period than this the share is taken for 0: three of four say nothing. */
      readonly ofAtLeast: number;
    };

/** One alarm. It goes off when every one of the last `periods` periods is as bad as `is` and `threshold` say. */
export interface AlarmSpec {
  /** Unique; `section`, and what it is about where there are several of one kind. */
  readonly name: string;
  /** Its heading in docs/runbook.md. */
  readonly section: string;
  /** One sentence: what it means for those whom the service serves. */
  readonly means: string;
  readonly value: AlarmValue;
  readonly is: 'at-least' | 'below';
  /** In the metric's unit; of a share, 0 to 1. */
  readonly threshold: number;
  readonly periodSeconds: number;
  readonly periods: number;
  /** What a period without data counts as. */
  readonly missing: 'bad' | 'good';
  /** Whether somebody is to be woken, or it waits for the morning. */
  readonly urgency: 'wake' | 'morning';
  /** Where the threshold comes from. */
  readonly source: string;
}

/** What the month may cost. No CloudWatch alarm: AWS Budgets tells of it. */
export interface BudgetSpec {
  readonly name: string;
  readonly section: string;
  readonly means: string;
  /** US dollars a month, unless a stage sets its own. */
  readonly dollars: Readonly<Record<FleetSize, number>>;
  /** Percent of it at which somebody is told, of what was spent and of what the month is forecast to come to. */
  readonly tellAtPercent: { readonly actual: number; readonly forecast: number };
  readonly source: string;
}
