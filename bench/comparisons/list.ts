import { api } from './api.ts';
import type { Comparison } from './comparison.ts';
import { engine } from './engine.ts';
import { forecasts } from './forecasts.ts';
import { largest } from './largest.ts';
import { live } from './live.ts';
import { replay } from './replay.ts';
import { start } from './start.ts';

/** All comparisons, in the order in which they run and stand on the page; the one that takes longest is the last. */
export const COMPARISONS: readonly Comparison[] = [replay, engine, forecasts, start, live, api, largest];

/** The comparison that `--skip-largest` leaves out. */
export const LARGEST = largest.name;
