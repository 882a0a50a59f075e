// The least that any reader of a file of events does: it reads the file in blocks as a replay does, and parses each line.
import { blocksOf, eachLine } from '../../../bin/replay/blocks.ts';
import { openSource } from '../../../bin/replay/source.ts';

const [, , path = ''] = process.argv;
const source = await openSource(path);
let parsed = 0;
let broken = 0;
for await (const block of blocksOf(source.bytes())) {
  eachLine(block, (start, end) => {
    try {
      JSON.parse(block.bytes.toString('utf8', start, end));
      parsed += 1;
    } catch {
      broken += 1;
    }
  });
}
console.log(JSON.stringify({ parsed, broken }));
