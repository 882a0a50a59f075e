import { writeFile } from 'node:fs/promises';
import { beTimer, isTimer, measure } from './scale/measure/measure.ts';

if (isTimer) await beTimer();
else await writeFile('bench/scale/measured.json', `${JSON.stringify(await measure(), null, 2)}\n`);
