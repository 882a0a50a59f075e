/** Thrown where something of the archive cannot be: an id that is no part of a path, a file that is not ours. */
export class ArchiveError extends Error {
  readonly code: 'partition-impossible' | 'file-unreadable';

  constructor(code: ArchiveError['code'], message: string) {
    super(message);
    this.code = code;
  }
}
