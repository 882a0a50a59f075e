import { availableParallelism, cpus } from 'node:os';
import * as z from 'zod';
import type { Comparison, Found } from '../comparisons/comparison.ts';

const number = z.number();

const foundSchema: z.ZodType<Found> = z.object({
  measured: z.array(z.object({ what: z.string(), unit: z.string(), rounds: z.array(number) })),
  plots: z.array(
    z.object({
      title: z.string(),
      x: z.string(),
      y: z.string(),
      logarithmic: z.boolean(),
      lines: z.array(
        z.object({
          name: z.string(),
          points: z.array(
            z.object({ x: number, y: number, low: z.exactOptional(number), high: z.exactOptional(number) }),
          ),
        }),
      ),
    }),
  ),
  bounds: z.array(
    z.object({
      what: z.string(),
      asked: z.string(),
      measured: z.string(),
      holds: z.boolean(),
      because: z.exactOptional(z.string()),
    }),
  ),
  notes: z.array(z.string()),
});

/** What one comparison found, and where: a file of `bench/results/`. The machine is told by its kind, not by its name. */
export const resultSchema = z.object({
  name: z.string(),
  question: z.string(),
  /** The day on which it was measured, in UTC. */
  date: z.iso.date(),
  node: z.string(),
  cpu: z.string(),
  cores: z.int().min(1),
  size: z.enum(['small', 'whole']),
  found: foundSchema,
});

export type Result = z.infer<typeof resultSchema>;

/** What was found just now, on this machine. */
export function resultOf(
  { name, question }: Pick<Comparison, 'name' | 'question'>,
  size: Result['size'],
  found: Found,
): Result {
  return {
    name,
    question,
    date: new Date().toISOString().slice(0, 10),
    node: process.version,
    cpu: cpus()[0]?.model.trim() ?? 'unknown',
    cores: availableParallelism(),
    size,
    found,
  };
}

/** A result as it is kept: more than five digits are noise. */
export function resultText(result: Result): string {
  const fiveDigits = (_: string, value: unknown) =>
    typeof value === 'number' && !Number.isInteger(value) ? Number(value.toPrecision(5)) : value;
  return `${JSON.stringify(result, fiveDigits, 2)}\n`;
}
