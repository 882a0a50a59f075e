/** What stops the service from starting and its operator can mend: what is wrong, and what to do about it. */
export class ServiceError extends Error {
  readonly code:
    | 'folder-in-use'
    | 'folder-unusable'
    | 'port-in-use'
    | 'address-unusable'
    | 'table-unusable'
    | 'provider-unusable';
  readonly advice: string;

  constructor(code: ServiceError['code'], message: string, advice: string, options?: ErrorOptions) {
    super(message, options);
    this.code = code;
    this.advice = advice;
  }
}

/** The stable codes that an error and its causes carry. */
function codesOf(error: unknown): string[] {
  if (!(error instanceof Error)) return [];
  const own = 'code' in error && typeof error.code === 'string' ? [error.code] : [];
  return [...own, ...codesOf(error.cause)];
}

/** Says in our terms why an address cannot be listened on. */
export function listeningError(error: unknown, what: string, host: string, port: number): unknown {
  const codes = codesOf(error);
  if (codes.includes('EADDRINUSE')) {
    return new ServiceError(
      'port-in-use',
      `${what}: port ${port} of ${host} is in use`,
      'Stop what uses it, or choose another port.',
      { cause: error },
    );
  }
  if (codes.some((code) => ['EACCES', 'EADDRNOTAVAIL', 'ENOTFOUND', 'EAI_AGAIN'].includes(code))) {
    return new ServiceError(
      'address-unusable',
      `${what}: cannot listen on port ${port} of ${host}`,
      'Choose an address of this machine, and a port above 1023.',
      { cause: error },
    );
  }
  return error;
}

/** Says in our terms why the data folder cannot be used. */
export function folderError(error: unknown, folder: string): unknown {
  const codes = codesOf(error);
  if (codes.includes('LEVEL_LOCKED')) {
    return new ServiceError(
      'folder-in-use',
      `${folder} is in use by another process`,
      'Stop it, or choose another data folder.',
      { cause: error },
    );
  }
  if (codes.some((code) => ['EACCES', 'EPERM', 'EROFS', 'ENOTDIR', 'EEXIST', 'ENOSPC'].includes(code))) {
    return new ServiceError(
      'folder-unusable',
      `${folder} cannot be written to (${codes.join(', ')})`,
      'Choose another data folder, or mend this one.',
      { cause: error },
    );
  }
  return error;
}
