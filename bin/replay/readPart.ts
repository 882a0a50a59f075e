import { readSync } from 'node:fs';

/** Reads so many bytes of an open file of our own. */
export function readPart(descriptor: number, position: number, length: number): Buffer<ArrayBuffer> {
  const bytes = Buffer.allocUnsafeSlow(length);
  for (let read = 0; read < length; ) {
    const more = readSync(descriptor, bytes, read, length - read, position + read);
    if (more === 0)
      throw new Error('a file of this run is shorter than it was written: is another process at work there?');
    read += more;
  }
  return bytes;
}
