#!/usr/bin/env node
import { ready } from './ready.js';

ready();
await import(new URL('../dist/brinebell.js', import.meta.url).href);
