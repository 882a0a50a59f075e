/**
 * How long the service takes for a region's what-if: the first time, when it reads every unit's past, and again, when it
 * has it. The fleet is the demonstration's, half a year old.
 *
 * usage: node bench/run.js whatIf [--units 200] [--times 4]
 */

import { readFile } from 'node:fs/promises';
import { join } from 'node:path';
import { parseArgs } from 'node:util';
import { startDemo } from '../tests/console/demoService.ts';

const { values } = parseArgs({
  options: { units: { type: 'string', default: '200' }, times: { type: 'string', default: '4' } },
});
const QUESTIONS = ['dose=6', 'correct=true', 'reserve=forecast', 'correct=true&salt=KCl'];

const demo = await startDemo(Number(values.units));
try {
  const key = (await readFile(join(demo.dataDir, 'demo-key'), 'utf8')).trim();
  for (let time = 0; time < Number(values.times); time++) {
    const question = QUESTIONS[time % QUESTIONS.length] ?? '';
    const begun = performance.now();
    const answer = await fetch(`${demo.service.url}/v1/what-if?${question}`, {
      headers: { authorization: `Bearer ${key}` },
    });
    const events = (await answer.text()).trim().split('\n\n');
    const took = Math.round(performance.now() - begun);
    console.log(`${question}: ${took} ms, status ${answer.status}; ${events.at(-1)?.slice(0, 300)}`);
  }
} finally {
  await demo.stop();
}
