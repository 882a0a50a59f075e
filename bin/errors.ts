/** What the command ends with. */
export const EXIT = {
  /** All done, and every input was read whole. */
  done: 0,
  /** It failed although nothing was wrong with what it was given: the disk is full, or the program has a fault. */
  failed: 1,
  /** Bad usage, or an input that cannot be read, or not to its end. */
  unusable: 2,
  /** Stopped from the keyboard. */
  interrupted: 130,
  /** Stopped by the system. */
  terminated: 143,
} as const;

export type ExitStatus = (typeof EXIT)[keyof typeof EXIT];

const STATUS_OF = {
  usage: EXIT.unusable,
  'input-unreadable': EXIT.unusable,
  'input-broken': EXIT.unusable,
  'rules-invalid': EXIT.unusable,
  'registry-unreadable': EXIT.unusable,
  'output-unusable': EXIT.unusable,
  'output-failed': EXIT.failed,
  'advice-refused': EXIT.failed,
  'history-short': EXIT.unusable,
  'key-refused': EXIT.unusable,
  'service-unreachable': EXIT.failed,
  'units-failed': EXIT.failed,
  'archive-missing': EXIT.unusable,
  'sql-refused': EXIT.unusable,
  'region-unknown': EXIT.unusable,
  'month-missing': EXIT.unusable,
} as const satisfies Record<string, ExitStatus>;

/** What a user can mend: what is wrong, in one line, and what to do about it, in another. Shown without a stack. */
export class CommandError extends Error {
  readonly code: keyof typeof STATUS_OF;
  readonly advice: string;

  constructor(code: keyof typeof STATUS_OF, message: string, advice: string) {
    super(message);
    this.code = code;
    this.advice = advice;
  }

  get status(): ExitStatus {
    return STATUS_OF[this.code];
  }
}

/** What the system says about a file, in plain words: ENOENT and its kin, or else its own message. */
export function reasonOf(error: unknown): string {
  const code = codeOf(error);
  const plain: Record<string, string> = {
    ENOENT: 'there is no such file or folder',
    EACCES: 'permission is denied',
    EPERM: 'permission is denied',
    EISDIR: 'it is a folder',
    ENOTDIR: 'a part of its path is not a folder',
    EEXIST: 'a file of that name is in the way',
    ENOSPC: 'the disk is full',
    EROFS: 'the disk is read-only',
  };
  return plain[code ?? ''] ?? (error instanceof Error ? error.message : String(error));
}

/** The stable code that an error carries, if it does. */
export function codeOf(error: unknown): string | undefined {
  if (!(error instanceof Error) || !('code' in error)) return undefined;
  return typeof error.code === 'string' ? error.code : undefined;
}

/** A text on one line without control characters: what comes from a file may hold anything. */
export function oneLine(text: string): string {
  return text.replace(/[\s\p{Cc}]+/gu, ' ').trim();
}
