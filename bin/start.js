#!/usr/bin/env node
// `npm start`: the live service in this process.
import { ready } from './ready.js';

// The AWS SDK's advice on versions of Node.js is for those who deploy it.
process.env.AWS_SDK_JS_NODE_VERSION_SUPPORT_WARNING_DISABLED ??= 'true';
ready();
await import(new URL('../dist/service.js', import.meta.url).href);
