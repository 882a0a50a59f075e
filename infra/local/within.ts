/** Thrown where something takes longer than it may. */
class OverrunError extends Error {
  readonly code = 'overrun';
}

/** What `work` gives, if it does within some milliseconds; it is not waited for any longer, but cannot be stopped. */
export async function within<Result>(ms: number, work: () => Promise<Result>): Promise<Result> {
  let timer: NodeJS.Timeout | undefined;
  const overrun = new Promise<never>((_, reject) => {
    timer = setTimeout(() => reject(new OverrunError(`did not end within ${ms / 1000} s`)), ms);
  });
  try {
    return await Promise.race([work(), overrun]);
  } finally {
    clearTimeout(timer);
  }
}
