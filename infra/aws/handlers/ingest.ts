import { ingest } from '../../../functions/ingest.ts';
import { entry } from '../parts/entry.ts';
import { outletsOf } from '../parts/outlets.ts';
import { portsOf } from '../parts/ports.ts';

const ports = portsOf('ingest', outletsOf('ingest'));

export const handler = entry(ports, ingest(ports));
