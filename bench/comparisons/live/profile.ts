import { mkdirSync, readFileSync, writeFileSync } from 'node:fs';
import { Session } from 'node:inspector/promises';
import { SourceMap } from 'node:module';
import { join } from 'node:path';
import { byWork, type Share, sharesOf, timesBySource, type Work } from '../../set/cpuProfile.ts';

const WORK: Work = [
  ['the SDK', /node_modules\/(@aws-sdk|@smithy|@aws)\//],
  ['handing over to the table’s thread', /^postMessage$|node:internal\/worker|infra\/local\/embeddedTable/],
  [
    'the journal of the queues',
    /(classic|abstract)-level|infra\/local\/(queue|groupCommit|backlog|bodies|deque|worker)/,
  ],
  ['packing', /node:zlib|^(writeSync|write)$|lib\/store\/packed/],
  [
    'broker and sockets',
    /aedes|mqtt|fastparallel|reusify|qlobber|node_modules\/(bl|readable-stream)|infra\/local\/(broker|meterSession|packetLimit)|node:(net|internal\/(streams|stream_base))|^writeBuffer$/,
  ],
  ['judging', /shared\/|functions\/(ingest|judge)|canonicalize|node_modules\/zod/],
  ['fold, forecasts and watching', /lib\/(unit|demand|live|watch|softening|salt|replay)|@stdlib/],
  ['the store', /lib\/store/],
  ['the functions else', /functions\//],
  ['collecting garbage', /^\(garbage collector\)$/],
  ['all else', /.*/],
];
/** What the profile itself takes; it is not told of. */
const PROFILER = 'node:inspector';
const FOLDER = 'out/bench/profile';
/** What this is bundled into. */
const BUNDLE = 'dist/bench/set.js';

/** Where the time of this thread goes while something is done, by the runtime's profile, most first. */
export async function profiled(work: () => Promise<void>): Promise<Share[]> {
  const session = new Session();
  session.connect();
  await session.post('Profiler.enable');
  await session.post('Profiler.start');
  await work();
  const { profile } = await session.post('Profiler.stop');
  session.disconnect();
  mkdirSync(FOLDER, { recursive: true });
  const file = join(FOLDER, 'live.cpuprofile');
  writeFileSync(file, JSON.stringify(profile));
  const map = new SourceMap(JSON.parse(readFileSync(`${BUNDLE}.map`, 'utf8')));
  const times = timesBySource(file, (url) => (url.endsWith(`/${BUNDLE}`) ? map : undefined));
  times.delete(PROFILER);
  return sharesOf(byWork(times, WORK));
}
