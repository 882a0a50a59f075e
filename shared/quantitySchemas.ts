import * as z from 'zod';
import { once } from './once.ts';
import { FACTORS } from './quantity.ts';
import { keysOf } from './records.ts';

const LARGEST = 1e300;

/** A volume, never negative: water is counted, not measured against a zero. */
export const volumeSchema = once(() => quantity(FACTORS.gallons, z.number().min(0)));
export const flowSchema = once(() => quantity(FACTORS.gpm, z.number().min(0)));
/** A mass as a level sensor reads it: its noise may carry it below zero. */
export const massReadingSchema = once(() => quantity(FACTORS.lb, z.number()));
export const massSchema = once(() => quantity(FACTORS.lb, z.number().min(0)));
export const hardnessSchema = once(() => quantity(FACTORS.gpg, z.number().min(0)));
export const capacitySchema = once(() => quantity(FACTORS.grains, z.number().min(0)));

function quantity<Factors extends Record<string, number>>(factors: Factors, value: z.ZodNumber) {
  // What is too large for a double in the trade's units is no quantity of water or salt.
  const bounded = value.min(Math.max(value.minValue ?? -LARGEST, -LARGEST)).max(LARGEST);
  return z.object({ value: bounded, unit: z.enum(keysOf(factors)) });
}
