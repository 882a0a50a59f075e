import { trialSum } from '../../../functions/trial/sum.ts';
import { entry } from '../parts/entry.ts';
import { bucketFiles } from '../parts/files.ts';
import { logOf } from '../parts/logOf.ts';

const ports = { log: logOf('trialSum') };

export const handler = entry(ports, trialSum(bucketFiles(), ports));
