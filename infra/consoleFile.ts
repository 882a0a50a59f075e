import { extname } from 'node:path';

const TYPES: Readonly<Record<string, string>> = {
  '.html': 'text/html; charset=utf-8',
  '.js': 'text/javascript; charset=utf-8',
  '.css': 'text/css; charset=utf-8',
  '.svg': 'image/svg+xml',
  '.png': 'image/png',
  '.woff2': 'font/woff2',
  '.webmanifest': 'application/manifest+json',
  '.json': 'application/json',
  '.map': 'application/json',
};
/** Files named by a hash of their content never change. */
const HASHED = /^\/assets\//;

/** Whether it is a file of the console by its address, and no page. */
export function isHashed(pathname: string): boolean {
  return HASHED.test(pathname);
}

/** What goes with a file of the console wherever it is served from. */
export function fileHeaders(pathname: string): {
  readonly 'content-type': string;
  readonly 'cache-control': string;
} {
  return {
    'content-type': TYPES[extname(pathname)] ?? 'application/octet-stream',
    'cache-control': isHashed(pathname) ? 'public, max-age=31536000, immutable' : 'no-cache',
  };
}
