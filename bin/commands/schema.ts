import { mkdir, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { Command } from 'commander';
import * as z from 'zod';
import { trialRowSchema } from '../../lib/trial/row.ts';
import { trialSummarySchema } from '../../lib/trial/summary.ts';
import { rulesSchema } from '../../lib/watch/rules.ts';
import { alertSchema } from '../../shared/alertSchema.ts';
import { eventSchema } from '../../shared/events.ts';
import { forecastSchema } from '../../shared/forecasts.ts';
import { unitRecordSchema } from '../../shared/registry.ts';
import { rejectionSchema } from '../../shared/rejectionSchema.ts';
import { summarySchema } from '../../shared/summary.ts';
import { CommandError, reasonOf } from '../errors.ts';

/** Each published schema, and the title it carries. */
const PUBLISHED = {
  event: { title: 'Event: one line of what a meter sends', schema: eventSchema() },
  unit: { title: 'Unit: one record of the registry', schema: unitRecordSchema() },
  rules: { title: 'Rules: what replay --rules reads', schema: rulesSchema },
  alert: { title: 'Alert: one line of alerts.ndjson', schema: alertSchema },
  forecast: { title: 'Forecast: one line of forecasts.ndjson', schema: forecastSchema },
  rejection: { title: 'Rejection: one line of rejected.ndjson', schema: rejectionSchema },
  'trial-row': { title: 'Trial row: one line of trial.ndjson', schema: trialRowSchema },
  'trial-summary': { title: 'Trial summary: summary.json of a trial', schema: trialSummarySchema },
  summary: { title: 'Summary: summary.json', schema: summarySchema },
};

/** `brinebell schema`: the wire contract as JSON Schema, made from the schemas by which the code itself judges. */
export function schemaCommand(): Command {
  return new Command('schema')
    .description('write JSON Schemas of events, units, rules and all outputs')
    .requiredOption('--out <dir>', 'folder to write them to')
    .action(async ({ out }: { out: string }) => {
      try {
        await mkdir(out, { recursive: true });
        for (const [name, text] of publishedSchemas()) await writeFile(join(out, `${name}.json`), text);
      } catch (error) {
        throw new CommandError(
          'output-unusable',
          `${out}: ${reasonOf(error)}`,
          'Choose another --out folder.',
        );
      }
    });
}

function publishedSchemas(): [name: string, text: string][] {
  return Object.entries(PUBLISHED).map(([name, { title, schema }]) => {
    // What may be given is published, not what parsing adds to it.
    const { $schema, ...rest } = z.toJSONSchema(schema, { io: 'input' });
    return [name, `${JSON.stringify({ $schema, title, ...rest }, null, 2)}\n`];
  });
}
