import { createGunzip } from 'node:zlib';

/** The two bytes with which every gzip file begins. */
const MAGIC = Buffer.from([0x1f, 0x8b]);
const TRAILER_BYTES = 8;
const LEAST_PIECE = 256;
const LARGEST_PIECE = 1 << 14;

/** Whether bytes begin as a gzip file does. */
export function isGzip(bytes: Buffer): boolean {
  return bytes.subarray(0, MAGIC.length).equals(MAGIC);
}

/**
 * Unpacks gzip, of one member or several. Of a file that is cut short, everything that can be unpacked is given
 * before it throws. Where one is corrupt, zlib withholds what it had unpacked of the piece in which it noticed;
 * hence pieces are small at first, and the checksum at the very end is a piece of its own.
 */
export async function* gunzip(chunks: AsyncIterable<Buffer>): AsyncGenerator<Buffer> {
  const decoder = createGunzip({ chunkSize: 1 << 18 });
  let unpacked: Buffer[] = [];
  let failure: Error | undefined;
  decoder.on('data', (data: Buffer) => unpacked.push(data));
  const closed = new Promise<void>((resolve) => {
    decoder.on('error', (error) => {
      failure = error;
      resolve();
    });
    decoder.on('close', resolve);
  });
  const drain = () => {
    const drained = unpacked;
    unpacked = [];
    return drained;
  };
  let broken: { error: unknown } | undefined;
  try {
    for await (const piece of piecesOf(chunks)) {
      const written = new Promise<void>((resolve) => decoder.write(piece, () => resolve()));
      await Promise.race([written, closed]);
      yield* drain();
      if (failure) throw failure;
    }
  } catch (error) {
    broken = { error };
  }
  if (broken) decoder.destroy();
  else decoder.end();
  await closed;
  yield* drain();
  if (broken) throw broken.error;
  if (failure) throw failure;
}

/** Cuts chunks into pieces of at most a sixteenth of what came before, and parts the last eight bytes from the rest. */
async function* piecesOf(chunks: AsyncIterable<Buffer>): AsyncGenerator<Buffer> {
  let given = 0;
  let held = Buffer.alloc(0);
  for await (const chunk of chunks) {
    const whole = Buffer.concat([held, chunk]);
    const end = Math.max(0, whole.length - TRAILER_BYTES);
    for (let from = 0; from < end; ) {
      const size = Math.min(LARGEST_PIECE, Math.max(LEAST_PIECE, given >> 4), end - from);
      yield whole.subarray(from, from + size);
      from += size;
      given += size;
    }
    held = Buffer.from(whole.subarray(end));
  }
  yield held;
}
