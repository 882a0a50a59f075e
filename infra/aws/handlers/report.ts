import { report } from '../../../functions/report.ts';
import { archiveFiles } from '../parts/archiveFiles.ts';
import { entry } from '../parts/entry.ts';
import { portsOf } from '../parts/ports.ts';
import { noOutlet, queuesBy } from '../parts/queuesBy.ts';

const ports = portsOf(
  'report',
  queuesBy((queue) => noOutlet('report', queue)),
);

export const handler = entry(ports, report(ports, archiveFiles()));
