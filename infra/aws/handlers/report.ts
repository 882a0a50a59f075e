import { report } from '../../../functions/report.ts';
import { entry } from '../parts/entry.ts';
import { bucketFiles } from '../parts/files.ts';
import { portsOf } from '../parts/ports.ts';
import { noOutlet, queuesBy } from '../parts/queuesBy.ts';

const ports = portsOf(
  'report',
  queuesBy((queue) => noOutlet('report', queue)),
);
const files = bucketFiles();

export const handler = entry(
  ports,
  report(ports, { put: (name, text) => files.put(`reports/${name}`, text) }),
);
