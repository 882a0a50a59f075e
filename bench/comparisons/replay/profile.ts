import { readdirSync, readFileSync, rmSync } from 'node:fs';
import { SourceMap } from 'node:module';
import { join } from 'node:path';
import { byWork, type Share, sharesOf, timesBySource, type Work } from '../../set/cpuProfile.ts';
import { COMMAND, type Fleet } from '../../set/fleet.ts';
import { replayed } from './replayed.ts';

const WORK: Work = [
  ['reading and splitting', /bin\/replay\/(source|gunzip|blocks|admitBlock|takeIn|inOrder)|node:/],
  ['zod', /node_modules\/zod/],
  ['JSON.parse, admission', /shared\/(admission|canonical)/],
  ['dates and zones', /shared\/time/],
  ['to facts', /shared\//],
  ['sorting by unit', /bin\/replay\/(shuffle|chunk)/],
  ['forecasts', /lib\/demand|lib\/unit\/outlook|@stdlib/],
  ['fold', /lib\/(unit|softening|salt|replay)/],
  ['watch', /lib\/watch/],
  ['writing', /bin\//],
  ['collecting garbage', /\(garbage collector\)/],
  ['all else', /.*/],
];
const FOLDER = 'out/bench/profile';

/** Where the time of a replay in one thread goes by the runtime's profile, most first: by work, and by source file. */
export async function profileOf(fleet: Fleet): Promise<{ byWork: Share[]; byFile: Share[] }> {
  rmSync(FOLDER, { recursive: true, force: true });
  await replayed(fleet, 1, ['--cpu-prof', '--cpu-prof-dir', FOLDER]);
  const [file = ''] = readdirSync(FOLDER);
  const map = new SourceMap(JSON.parse(readFileSync(`${COMMAND}.map`, 'utf8')));
  const byFile = timesBySource(join(FOLDER, file), (url) => (url.endsWith(`/${COMMAND}`) ? map : undefined));
  return { byWork: sharesOf(byWork(byFile, WORK)), byFile: sharesOf(byFile) };
}
