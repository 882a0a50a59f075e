/** A file of the archive, read piece by piece. */
export interface ArchiveFile {
  readonly byteLength: number;
  /** @param end the first byte that is not wanted; by default the end */
  slice(start: number, end?: number): Promise<ArrayBuffer>;
}

/**
 * Files in object storage, or in a folder, under paths with `/` in them. Each is put whole or not at all, and a path that
 * is put again holds what was put last.
 */
export interface ArchiveFiles {
  put(path: string, content: Uint8Array | string): Promise<void>;
  /** The paths that begin so, in their order. */
  list(prefix: string): Promise<readonly string[]>;
  /** @throws if there is no such file */
  open(path: string): Promise<ArchiveFile>;
  /** Takes files off; those that are not there are no matter. */
  drop(paths: readonly string[]): Promise<void>;
}
