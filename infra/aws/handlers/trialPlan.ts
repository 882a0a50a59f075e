import { trialPlan } from '../../../functions/trial/plan.ts';
import { entry } from '../parts/entry.ts';
import { bucketFiles } from '../parts/files.ts';
import { noOutlets } from '../parts/noOutlets.ts';
import { portsOf } from '../parts/ports.ts';

const ports = portsOf('trialPlan', noOutlets('trialPlan'));

export const handler = entry(ports, trialPlan(ports, bucketFiles()));
