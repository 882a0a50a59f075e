import { join } from 'node:path';
import * as z from 'zod';
import type { ScoredUnit } from '../../lib/score/scoredUnit.ts';
import type { Truth } from '../../lib/simulation/truth.ts';
import { alertSchema } from '../../shared/alertSchema.ts';
import { ALERT_KINDS } from '../../shared/alerts.ts';
import { readRegistry } from '../../shared/registry.ts';
import { parseLocalDate } from '../../shared/time/localDate.ts';
import { firstIssue } from '../../shared/zodIssue.ts';
import { CommandError } from '../errors.ts';
import { readText } from '../replay/source.ts';

const truthSchema = z.array(
  z.object({
    unitId: z.string(),
    what: z.enum(['fault', 'regeneration-without-salt', 'overrun', 'absence', 'salt-low', 'confounder']),
    kind: z.enum(ALERT_KINDS).nullable(),
    cause: alertSchema.shape.cause,
    from: z.iso.date(),
    to: z.iso.date().nullable(),
    detail: z.record(z.string(), z.unknown()),
  }),
);
const simulationSchema = z.object({ options: z.object({ days: z.int().min(1), start: z.iso.date() }) });

/**
 * Reads a simulated fleet and what a replay of it wrote.
 *
 * @throws CommandError `input-unreadable` where a file is missing or another than it should be
 */
export async function readScored(simulated: string, out: string): Promise<ScoredUnit[]> {
  const advice = (folder: string, command: string) =>
    `${folder} should be what brinebell ${command} wrote; make it anew.`;
  const read = async <Schema extends z.ZodType>(path: string, schema: Schema, command: string) => {
    const text = await readText(path);
    return judged(path, parsed(path, text, advice(path, command)), schema, advice(path, command));
  };
  const { options } = await read(join(simulated, 'simulation.json'), simulationSchema, 'simulate');
  const truth: Truth[] = await read(join(simulated, 'truth.json'), truthSchema, 'simulate');
  const { units } = readRegistry(await readText(join(simulated, 'units.json')));
  const path = join(out, 'alerts.ndjson');
  const lines = (await readText(path)).split('\n').filter((line) => line !== '');
  const alerts = lines.map((line) =>
    judged(path, parsed(path, line, advice(out, 'replay')), alertSchema, advice(out, 'replay')),
  );
  const foreign = [...truth, ...alerts].find(({ unitId }) => !units.has(unitId));
  if (foreign) {
    throw new CommandError(
      'input-unreadable',
      `${foreign.unitId} is not in ${join(simulated, 'units.json')}`,
      'Score a replay against the fleet that it was a replay of.',
    );
  }
  const from = parseLocalDate(options.start) ?? 0;
  const truthOf = grouped(truth);
  const alertsOf = grouped(alerts);
  return [...units.values()].map((unit) => ({
    unit,
    truth: truthOf.get(unit.unitId) ?? [],
    alerts: alertsOf.get(unit.unitId) ?? [],
    from,
    to: from + options.days - 1,
  }));
}

function grouped<Item extends { unitId: string }>(items: readonly Item[]): Map<string, Item[]> {
  const groups = new Map<string, Item[]>();
  for (const item of items) {
    const group = groups.get(item.unitId);
    if (group) group.push(item);
    else groups.set(item.unitId, [item]);
  }
  return groups;
}

function parsed(path: string, text: string, advice: string): unknown {
  try {
    return JSON.parse(text);
  } catch {
    throw new CommandError('input-unreadable', `${path} is not JSON throughout`, advice);
  }
}

function judged<Schema extends z.ZodType>(path: string, value: unknown, schema: Schema, advice: string) {
  const result = schema.safeParse(value);
  if (result.success) return result.data;
  throw new CommandError('input-unreadable', `${path}: ${firstIssue(result.error)}`, advice);
}
