import { trialRun } from '../../../functions/trial/run.ts';
import { readFacts } from '../../../lib/archive/readFacts.ts';
import { entry } from '../parts/entry.ts';
import { bucketFiles } from '../parts/files.ts';
import { logOf } from '../parts/logOf.ts';

const ports = { log: logOf('trialRun') };

export const handler = entry(ports, trialRun(bucketFiles(), readFacts, ports));
