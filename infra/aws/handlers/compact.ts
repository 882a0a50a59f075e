import { compact } from '../../../functions/archive/compact.ts';
import { entry } from '../parts/entry.ts';
import { bucketFiles } from '../parts/files.ts';
import { logOf } from '../parts/logOf.ts';

const ports = { log: logOf('compact') };

// The merged files lie where those lay that they are merged of: the catalogue knows the place.
export const handler = entry(ports, compact(bucketFiles(), ports));
