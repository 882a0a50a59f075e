import { fileURLToPath } from 'node:url';
import react from '@vitejs/plugin-react';
import { defineConfig } from 'vite';
import { themeVariables } from './theme/variablesPlugin.ts';

/** `BRINEBELL_SERVICE=http://localhost:8080 npx vite console` develops against a service that runs. */
const service = process.env.BRINEBELL_SERVICE ?? 'http://localhost:8080';
/** With a company's key, which the proxy adds, nobody has to sign in. It never gets into a bundle. */
const key = process.env.BRINEBELL_KEY;

const target = { target: service, ...(key && { headers: { authorization: `Bearer ${key}` } }) };

export default defineConfig({
  root: fileURLToPath(new URL('.', import.meta.url)),
  plugins: [react(), themeVariables()],
  build: {
    outDir: '../dist/console',
    emptyOutDir: true,
    manifest: true,
    // A preload polyfill would be an inline script, and an inlined file a data address: the policy allows neither.
    modulePreload: { polyfill: false },
    assetsInlineLimit: 0,
  },
  server: { proxy: { '/v1': target, '/issuer': { target: service } } },
});
