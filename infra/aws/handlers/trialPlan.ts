import { trialPlan } from '../../../functions/trial/plan.ts';
import { entry } from '../parts/entry.ts';
import { bucketFiles } from '../parts/files.ts';
import { portsOf } from '../parts/ports.ts';
import { noOutlet, queuesBy } from '../parts/queuesBy.ts';

const ports = portsOf(
  'trialPlan',
  queuesBy((queue) => noOutlet('trialPlan', queue)),
);

export const handler = entry(ports, trialPlan(ports, bucketFiles()));
