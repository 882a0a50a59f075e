import { report } from '../../../functions/report.ts';
import { archiveFiles } from '../parts/archiveFiles.ts';
import { entry } from '../parts/entry.ts';
import { noOutlets } from '../parts/noOutlets.ts';
import { portsOf } from '../parts/ports.ts';

const ports = portsOf('report', noOutlets('report'));

export const handler = entry(ports, report(ports, archiveFiles()));
