import { MAX_EVENT_BYTES } from '../../shared/quarantine.ts';
import { Problem } from './problems.ts';

export type EventsType =
  | 'application/cloudevents+json'
  | 'application/cloudevents-batch+json'
  | 'application/x-ndjson';

/** A body of the largest size holds half a million empty events; each would become a message. */
export const MAX_EVENTS = 10_000;

/**
 * The events of a body, each as one line of text, however malformed. A line that is too large for an event is cut to
 * where it still is, so that it cannot fill the queue.
 *
 * @throws Problem if a batch is no JSON array, or holds too many events
 */
export function eventLines(type: EventsType, body: string): string[] {
  const lines = linesOf(type, body);
  if (lines.length > MAX_EVENTS) {
    throw new Problem('too-many-events', `Send at most ${MAX_EVENTS} events at a time, in several requests.`);
  }
  return lines.map((line) => line.slice(0, MAX_EVENT_BYTES + 1));
}

function linesOf(type: EventsType, body: string): string[] {
  switch (type) {
    case 'application/x-ndjson':
      return body.split(/\r?\n/).filter((line) => line.trim() !== '');
    case 'application/cloudevents+json':
      return [onOneLine(body)];
    case 'application/cloudevents-batch+json':
      return batch(body).map(written);
  }
}

/** An event that was sent over several lines must not break into several where lines are events. */
function onOneLine(body: string): string {
  if (!/[\r\n]/.test(body)) return body;
  try {
    return written(JSON.parse(body));
  } catch {
    return body;
  }
}

function batch(body: string): unknown[] {
  let parsed: unknown;
  try {
    parsed = JSON.parse(body);
  } catch {
    // Told below.
  }
  if (Array.isArray(parsed)) return parsed;
  throw new Problem(
    'batch-not-an-array',
    'Send a JSON array of events, or one event as application/cloudevents+json.',
  );
}

function written(value: unknown): string {
  try {
    return JSON.stringify(value);
  } catch {
    // Nested so deeply that writing it exhausts the stack. Its neighbours must not fall with it.
    return 'an event that is nested too deeply to be written';
  }
}
