/**
 * The comparisons that say how fast this is, each beside something known, in one run on one machine. What they find goes
 * to `bench/results/` as JSON, and all that is there is drawn as one page, `index.html`. A small run only shows that they
 * work: its results go to `out/bench/small`.
 *
 * usage: npm run bench [-- --small] [-- --only replay,forecasts] [-- --skip-largest] [-- --page]
 */
import { mkdirSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { parseArgs } from 'node:util';
import type { Comparison } from './comparisons/comparison.ts';
import { COMPARISONS, LARGEST } from './comparisons/list.ts';
import { pageOf } from './set/page.ts';
import { readResults } from './set/readResults.ts';
import { resultOf, resultText } from './set/result.ts';
import { tell } from './set/tell.ts';

const { values } = parseArgs({
  options: {
    small: { type: 'boolean', default: false },
    only: { type: 'string' },
    'skip-largest': { type: 'boolean', default: false },
    /** Draws the page anew and runs nothing. */
    page: { type: 'boolean', default: false },
  },
});
const size = values.small ? 'small' : 'whole';
const folder = values.small ? 'out/bench/small' : 'bench/results';
mkdirSync(folder, { recursive: true });

for (const comparison of values.page ? [] : chosen()) await run(comparison);
const results = readResults(
  folder,
  COMPARISONS.map(({ name }) => name),
);
writeFileSync(join(folder, 'index.html'), pageOf(results));
console.log(`Drawn: ${join(folder, 'index.html')}`);

function chosen(): readonly Comparison[] {
  const names = COMPARISONS.map(({ name }) => name);
  const wanted =
    values.only?.split(',') ?? names.filter((name) => name !== LARGEST || !values['skip-largest']);
  const unknown = wanted.filter((name) => !names.includes(name));
  if (unknown.length > 0) {
    console.error(`There is no comparison ${unknown.join(', ')}. Name some of: ${names.join(', ')}`);
    process.exit(2);
  }
  return COMPARISONS.filter(({ name }) => wanted.includes(name));
}

/** One that fails is told of, and keeps none of the others. */
async function run(comparison: Comparison): Promise<void> {
  const { name, question } = comparison;
  const began = performance.now();
  console.log(`\n${name}: ${question}`);
  try {
    const found = await comparison.run(size, (line) => console.log(`  ${line}`));
    writeFileSync(join(folder, `${name}.json`), resultText(resultOf(comparison, size, found)));
    console.log(tell(found));
  } catch (error) {
    console.error(`${name} failed, and what it found before stands:`, error);
    process.exitCode = 1;
  }
  console.log(`${name}: ${((performance.now() - began) / 1000).toFixed(0)} s`);
}
