/** As in the worker: what the service said, for whom. */
const ANSWERS = 'brinebell-answers';

/**
 * Takes off this device what was kept of the service's answers, whoever asked: homes and their people stand in them.
 * Reports that are not sent yet stay.
 */
export async function forgetAnswers(): Promise<void> {
  // Without a secure context nothing was kept.
  if ('caches' in globalThis) await caches.delete(ANSWERS);
}
