import { assess } from '../../../functions/assess.ts';
import { entry } from '../parts/entry.ts';
import { outletsOf } from '../parts/outlets.ts';
import { portsOf } from '../parts/ports.ts';

const ports = portsOf('assess', outletsOf('assess'));

export const handler = entry(ports, assess(ports));
