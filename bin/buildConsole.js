// Bundles the console into dist/console. It is made beside, and put in place whole.
import { rename, rm } from 'node:fs/promises';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { build } from 'vite';

const root = fileURLToPath(new URL('..', import.meta.url));
const place = join(root, 'dist/console');
const made = join(root, `dist/.console-${process.pid}`);
const old = join(root, `dist/.console-old-${process.pid}`);

// Tests build it too, under a name of their own: React would then bring all that it says to developers.
process.env.NODE_ENV = 'production';
await build({
  configFile: join(root, 'console/vite.config.ts'),
  logLevel: 'warn',
  build: { outDir: made, emptyOutDir: true },
}).catch((error) => {
  console.error(error);
  process.exit(1);
});
await rename(place, old).catch((error) => {
  if (error.code !== 'ENOENT') throw error;
});
await rename(made, place);
await rm(old, { recursive: true, force: true });
