import { createRoute } from '@hono/zod-openapi';
import { streamSSE } from 'hono/streaming';
import type { Changes } from '../ports.ts';
import { type Api, text } from './api.ts';

/** What stands between us and a listener may give up a silent connection; this keeps it open, milliseconds. */
const BEAT_MS = 15_000;

/** Tells a console at once which units of its company have changed; what has, it asks for. */
export function changesRoutes({ app, access }: Api, changes: Changes): void {
  const listen = createRoute({
    method: 'get',
    path: '/v1/changes',
    summary: 'Units that change, as they do',
    description:
      'Server-sent events: `unit` with {"unitId"}. Where there is no such address, ask again now and then.',
    ...access.company,
    responses: { 200: text('text/event-stream', 'It goes on until either side ends it') },
  });
  app.openapi(listen, (c) => {
    const { companyId } = c.var.caller;
    return streamSSE(c, async (stream) => {
      // Each unit once, however slowly they are taken.
      const waiting = new Set<string>();
      const over = new AbortController();
      const end = () => over.abort();
      stream.onAbort(end);
      changes.ended.addEventListener('abort', end, { signal: over.signal });
      let wake = () => {};
      const stop = changes.listen(companyId, (unitId) => {
        waiting.add(unitId);
        wake();
      });
      let beat = true;
      const timer = setInterval(() => {
        beat = true;
        wake();
      }, BEAT_MS);
      over.signal.addEventListener('abort', () => wake());
      await stream.write(': listening\n\n');
      while (!over.signal.aborted) {
        for (const unitId of waiting) {
          waiting.delete(unitId);
          await stream.writeSSE({ event: 'unit', data: JSON.stringify({ unitId }) });
        }
        if (beat) {
          beat = false;
          // Whoever has been taken off, or whose sign-in is over, hears no more.
          if (!(await access.still(c))) break;
          await stream.write(': beat\n\n');
        }
        if (waiting.size === 0 && !beat && !over.signal.aborted) {
          await new Promise<void>((resolve) => {
            wake = resolve;
          });
        }
      }
      clearInterval(timer);
      stop();
      over.abort();
    });
  });
}
