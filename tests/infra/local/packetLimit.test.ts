import fc from 'fast-check';
import { expect, test } from 'vitest';
import { PacketLimit } from '../../../infra/local/packetLimit.ts';

const MOST = 300;

/** What comes out at the other end, and whether it ended in an error. */
async function through(chunks: readonly Buffer[]): Promise<{ passed: Buffer; failed: boolean }> {
  const limit = new PacketLimit(MOST);
  const passed: Buffer[] = [];
  limit.on('data', (chunk) => passed.push(chunk));
  const ended = new Promise<boolean>((resolve) => {
    limit.once('error', () => resolve(true));
    limit.once('end', () => resolve(false));
  });
  for (const chunk of chunks) limit.write(chunk);
  limit.end();
  return { failed: await ended, passed: Buffer.concat(passed) };
}

function cut(bytes: Buffer, places: readonly number[]): Buffer[] {
  const at = [0, ...places.map((place) => place % (bytes.length + 1)).sort((a, b) => a - b), bytes.length];
  return at.slice(1).map((end, index) => bytes.subarray(at[index], end));
}

/** A PUBLISH that announces so many bytes beyond its header: MQTT 3.1.1, section 2.2.3. */
function header(length: number): Buffer {
  const digits: number[] = [];
  let rest = length;
  do {
    digits.push((rest % 128) + (rest >= 128 ? 128 : 0));
    rest = Math.floor(rest / 128);
  } while (rest > 0);
  return Buffer.from([0x32, ...digits]);
}

const packet = fc
  .uint8Array({ maxLength: MOST, size: 'max' })
  .map((bytes) => Buffer.concat([header(bytes.length), bytes]));

test('packets within the limit pass unchanged, however they are cut; one beyond it ends the stream', async () => {
  await fc.assert(
    fc.asyncProperty(
      fc.array(packet, { maxLength: 8 }),
      fc.array(fc.nat(), { maxLength: 8 }),
      fc.integer({ min: MOST + 1, max: 268_435_455 }),
      async (packets, places, tooLong) => {
        const good = Buffer.concat(packets);
        expect(await through(cut(good, places))).toEqual({ passed: good, failed: false });
        const bad = Buffer.concat([good, header(tooLong), Buffer.alloc(10)]);
        expect(await through(cut(bad, places))).toMatchObject({ failed: true });
      },
    ),
  );
});

test('a length that takes more than four bytes is none', async () => {
  expect(await through([Buffer.from([0x30, 0x80, 0x80, 0x80, 0x80, 0])])).toMatchObject({ failed: true });
});
