/**
 * What a service worker has beside what a page has. The DOM's types and those of workers cannot be loaded together, and
 * `public/sw.js` is checked with the console: here is as much as it uses (W3C Service Workers).
 */
interface ExtendableEvent extends Event {
  waitUntil(work: Promise<unknown>): void;
}

interface FetchEvent extends ExtendableEvent {
  readonly request: Request;
  respondWith(answer: Promise<Response>): void;
}

interface WindowEventMap {
  install: ExtendableEvent;
  activate: ExtendableEvent;
  fetch: FetchEvent;
}

interface Window {
  skipWaiting(): Promise<void>;
  readonly clients: { claim(): Promise<void> };
}
