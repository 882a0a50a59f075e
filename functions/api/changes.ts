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
    const answer = streamSSE(c, async (stream) => {
      const gone = new AbortController();
      const ended = new Promise<void>((resolve) => {
        stream.onAbort(resolve);
        changes.ended.addEventListener('abort', () => resolve(), { signal: gone.signal });
      });
      const stop = changes.listen(companyId, (unitId) => {
        void stream.writeSSE({ event: 'unit', data: JSON.stringify({ unitId }) });
      });
      const beat = setInterval(() => void stream.write(': beat\n\n'), BEAT_MS);
      await stream.write(': listening\n\n');
      await ended;
      gone.abort();
      clearInterval(beat);
      stop();
    });
    return answer;
  });
}
