import { type FileHandle, open } from 'node:fs/promises';
import { CommandError, codeOf, reasonOf } from '../errors.ts';
import { gunzip, isGzip } from './gunzip.ts';

/** A file, or standard input, as a stream of plain bytes. */
export interface Source {
  /** What to call it in a message. */
  name: string;
  /** Its size as stored, where that is known. */
  totalBytes: number | undefined;
  /** How much of it was read, as stored. */
  bytesRead(): number;
  /**
   * Its bytes, unpacked if it is gzip. Throws a {@link CommandError} `input-broken` where it breaks off, after
   * everything before that was given.
   */
  bytes(): AsyncGenerator<Buffer>;
}

/**
 * Opens a file for reading, or standard input as `-`. That it is gzip is told by its first bytes; a file that is
 * named `.gz` must be.
 *
 * @throws CommandError `input-unreadable` if it does not exist, is a folder or may not be read
 */
export async function openSource(path: string): Promise<Source> {
  const name = path === '-' ? 'standard input' : path;
  const file = path === '-' ? undefined : await openFile(path);
  const stats = await file?.stat();
  let read = 0;
  async function* stored(): AsyncGenerator<Buffer> {
    const stream = file ? file.createReadStream({ highWaterMark: 1 << 18 }) : process.stdin;
    for await (const chunk of stream) {
      read += chunk.length;
      yield chunk;
    }
  }
  async function* bytes(): AsyncGenerator<Buffer> {
    try {
      const { first, all } = await beginningOf(stored());
      const packed = isGzip(first) || (path.endsWith('.gz') && first.length > 0);
      yield* packed ? gunzip(all) : all;
    } catch (error) {
      throw brokenOff(name, error);
    }
  }
  return { name, totalBytes: stats?.isFile() ? stats.size : undefined, bytesRead: () => read, bytes };
}

/** Reads a whole file as text, unpacked if it is gzip. Throws as {@link openSource} and its bytes do. */
export async function readText(path: string): Promise<string> {
  const chunks: Buffer[] = [];
  const source = await openSource(path);
  for await (const chunk of source.bytes()) chunks.push(chunk);
  return Buffer.concat(chunks).toString('utf8');
}

async function openFile(path: string): Promise<FileHandle> {
  let file: FileHandle | undefined;
  try {
    file = await open(path);
    if (!(await file.stat()).isDirectory()) return file;
  } catch (error) {
    throw new CommandError('input-unreadable', `cannot read ${path}: ${reasonOf(error)}`, 'Check the path.');
  }
  await file.close();
  throw new CommandError('input-unreadable', `cannot read ${path}: it is a folder`, 'Name the file in it.');
}

/** The first chunk that tells the kind of a stream (two bytes or more, unless the stream has fewer), and all of it. */
async function beginningOf(chunks: AsyncGenerator<Buffer>) {
  let first = Buffer.alloc(0);
  while (first.length < 2) {
    const next = await chunks.next();
    if (next.done) break;
    first = Buffer.concat([first, next.value]);
  }
  async function* all(): AsyncGenerator<Buffer> {
    yield first;
    yield* chunks;
  }
  return { first, all: all() };
}

function brokenOff(name: string, error: unknown): CommandError {
  const zlib = codeOf(error)?.startsWith('Z_');
  const reason = codeOf(error) === 'Z_BUF_ERROR' ? 'the gzip file is cut short' : reasonOf(error);
  return new CommandError(
    'input-broken',
    `${name} could not be read to its end: ${zlib && codeOf(error) !== 'Z_BUF_ERROR' ? `corrupt gzip, ${reason}` : reason}`,
    'What came before that was counted. Fetch the file again and replay it whole.',
  );
}
