import type { CloudTopology } from '../../../infra/aws/cloudTopology.ts';
import type { Catalogue } from '../../../infra/aws/stacks/catalogue.ts';
import { FUNCTIONS, QUEUES } from '../../../infra/topology.ts';

const NOTHING = { table: 'none', files: 'none', sendsTo: [], may: [] } as const;

/** The topology with one of every kind of source and right that stacks know, whether or not it has it by now. */
export const WHOLE: CloudTopology = {
  queues: {
    ...QUEUES,
    archive: { fifo: false, batchSize: 1000, windowSeconds: 300, visibilitySeconds: 660, maxReceives: 8 },
  },
  functions: {
    ...FUNCTIONS,
    archive: {
      ...NOTHING,
      ...{ source: { queue: 'archive' }, timeoutSeconds: 60, files: 'write', may: ['register-partitions'] },
      folders: { writes: ['facts'] },
    },
    compact: {
      ...NOTHING,
      ...{ source: { everyMinutes: 24 * 60 }, timeoutSeconds: 900, files: 'readWrite' },
    },
    api: {
      ...FUNCTIONS.api,
      files: 'read',
      folders: { reads: ['trials'] },
      may: [...FUNCTIONS.api.may, 'start-trials'],
    },
    trialPlan: {
      ...NOTHING,
      ...{ source: { workflow: 'trial' }, timeoutSeconds: 300, table: 'read', files: 'readWrite' },
    },
    trialRun: {
      ...NOTHING,
      ...{ source: { workflow: 'trial' }, timeoutSeconds: 900, files: 'readWrite' },
      folders: { reads: ['facts', 'trials'], writes: ['trials'] },
    },
    trialSum: { ...NOTHING, source: { workflow: 'trial' }, timeoutSeconds: 900, files: 'readWrite' },
    claims: { ...NOTHING, source: { signIn: true }, timeoutSeconds: 5 },
  },
  trial: {
    ...{ plan: 'trialPlan', each: 'trialRun', sum: 'trialSum' },
    ...{ concurrency: 100, attempts: 3, toleratedFailurePercentage: 100 },
  },
};

/** A catalogue of one table and one view. */
export const CATALOGUE: Catalogue = {
  tables: [
    {
      ...{ name: 'fact_copies', description: 'facts', prefix: 'facts/' },
      columns: [{ name: 'unit_id', type: 'string', comment: 'the unit' }],
      partitionKeys: [{ name: 'company', type: 'string', comment: 'the company' }],
      parameters: { classification: 'parquet', EXTERNAL: 'TRUE' },
    },
  ],
  views: [
    {
      ...{ name: 'facts', description: 'facts, each once', tableType: 'VIRTUAL_VIEW' },
      columns: [{ name: 'unit_id', type: 'string', comment: 'the unit' }],
      parameters: { presto_view: 'true', comment: 'Presto View' },
      viewExpandedText: '/* Presto View */',
    },
  ],
  storage: { inputFormat: 'in', outputFormat: 'out', serializationLibrary: 'serde' },
  viewText: (name, database) => `/* ${name} of ${database} */`,
};
