import { sweep } from '../../../functions/sweep.ts';
import { entry } from '../parts/entry.ts';
import { outletsOf } from '../parts/outlets.ts';
import { portsOf } from '../parts/ports.ts';

const ports = portsOf('sweep', outletsOf('sweep'));

export const handler = entry(ports, sweep(ports));
