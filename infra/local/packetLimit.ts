import { Transform, type TransformCallback } from 'node:stream';

/** Thrown into a connection that announces a packet which is too large. */
class PacketError extends Error {
  readonly code = 'packet-too-large';
}

/** The longest remaining length takes four bytes: MQTT 3.1.1, section 2.2.3. */
const LENGTH_BYTES = 4;

/**
 * Lets a stream of MQTT packets through and fails as soon as one announces more bytes than it may have, before any of
 * them is kept: a parser holds each packet until it is whole, and the protocol allows 256 MB.
 */
export class PacketLimit extends Transform {
  readonly #most: number;
  /** Bytes of the packet under way that are still to come; undefined while its header is read. */
  #left: number | undefined;
  /** What has been read of the header: the byte of its type, and the length so far. */
  #headerBytes = 0;
  #length = 0;

  /** @param most bytes that a packet may have beyond its header */
  constructor(most: number) {
    super();
    this.#most = most;
  }

  override _transform(chunk: Buffer, _encoding: BufferEncoding, done: TransformCallback): void {
    let at = 0;
    while (at < chunk.length) {
      if (this.#left === undefined) {
        if (!this.#readHeader(chunk[at] ?? 0)) {
          done(new PacketError(`a packet of over ${this.#most} bytes`));
          return;
        }
        at += 1;
      } else {
        const passed = Math.min(this.#left, chunk.length - at);
        this.#left -= passed;
        at += passed;
      }
      if (this.#left === 0) this.#begin();
    }
    done(null, chunk);
  }

  /** Returns false if the packet is too large, or its length is none. */
  #readHeader(byte: number): boolean {
    if (this.#headerBytes > 0) {
      this.#length += (byte & 0x7f) * 128 ** (this.#headerBytes - 1);
      if (this.#length > this.#most) return false;
      if (byte < 0x80) this.#left = this.#length;
      else if (this.#headerBytes === LENGTH_BYTES) return false;
    }
    this.#headerBytes += 1;
    return true;
  }

  #begin(): void {
    this.#left = undefined;
    this.#headerBytes = 0;
    this.#length = 0;
  }
}
