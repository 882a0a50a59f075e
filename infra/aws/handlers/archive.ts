import { archive } from '../../../functions/archive/archive.ts';
import { archiveFiles } from '../parts/archiveFiles.ts';
import { entry } from '../parts/entry.ts';
import { logOf } from '../parts/logOf.ts';

const ports = { log: logOf('archive') };

export const handler = entry(ports, archive(archiveFiles(), ports));
