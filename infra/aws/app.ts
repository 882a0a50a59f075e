import { type App, Tags } from 'aws-cdk-lib';
import { CATALOGUE_TABLES, CATALOGUE_VIEWS, PARQUET_STORAGE, viewText } from '../../lib/archive/catalogue.ts';
import { FUNCTIONS, QUEUES, TRIAL_WORKFLOW } from '../topology.ts';
import { alarmsOf, BUDGET } from './alarms.ts';
import type { CloudTopology } from './cloudTopology.ts';
import { type Catalogue, CatalogueStack } from './stacks/catalogue.ts';
import { catalogueName } from './stacks/catalogueName.ts';
import { DataStack } from './stacks/data.ts';
import { FilesStack } from './stacks/files.ts';
import { FrontStack } from './stacks/front.ts';
import { FunctionsStack } from './stacks/functions.ts';
import { IdentityStack } from './stacks/identity.ts';
import { MailStack } from './stacks/mail.ts';
import { MetersStack } from './stacks/meters.ts';
import { QueuesStack } from './stacks/queues.ts';
import { RoutesStack } from './stacks/routes.ts';
import { WatchStack } from './stacks/watch.ts';
import { trialArns, WorkflowStack } from './stacks/workflow.ts';
import { acceptWildcards } from './wildcards.ts';
import { type Wishes, wishesOf } from './wishes.ts';

export const TOPOLOGY: CloudTopology = { queues: QUEUES, functions: FUNCTIONS, trial: TRIAL_WORKFLOW };

/** What SQL can ask of the archive. */
const CATALOGUE: Catalogue = {
  tables: CATALOGUE_TABLES,
  views: CATALOGUE_VIEWS,
  storage: PARQUET_STORAGE,
  viewText,
};

interface BuildOptions {
  /** The folder with a folder of bundled code for each function. */
  readonly bundles: string;
  readonly topology?: CloudTopology;
}

/**
 * Puts the stacks of a deployment into an app; what is asked for stands in its context. They know neither account nor
 * region, and look nothing up: they can be made without a network.
 *
 * @throws ContextError if what is asked for cannot be
 */
export function build(app: App, { bundles, topology = TOPOLOGY }: BuildOptions): void {
  const wishes = wishesOf(app.node.getAllContext() ?? {});
  const { stage } = wishes;
  const named = (name: string) => [app, `Brinebell-${stage.name}-${name}`] as const;
  Tags.of(app).add('project', 'brinebell');
  Tags.of(app).add('stage', stage.name);

  const data = new DataStack(...named('Data'), { stage });
  const { key } = data;
  const { objectLockDays } = wishes;
  const { bucket, accessLogs, edgeLogs } = new FilesStack(...named('Files'), { stage, key, objectLockDays });
  const { pairs: queues, failedRuns } = new QueuesStack(...named('Queues'), { topology });
  const identity = new IdentityStack(...named('Identity'), { stage, topology, bundles });
  const front = new FrontStack(...named('Front'), { ...wishes, identity, accessLogs, edgeLogs, bundles });
  new CatalogueStack(...named('Catalogue'), { stage, catalogue: CATALOGUE, bucket, accessLogs, key });
  const { issuer } = identity;
  const holdings = {
    table: data.tableToUse(wishes.table),
    bucket: { name: bucket.bucketName, arn: bucket.bucketArn },
    keyArn: key.keyArn,
    queues,
    answerKeyArn: data.answerKey.ref,
    operatorKeyArn: data.operatorKey.ref,
    mail: mailOf(named('Mail'), wishes),
    publicUrl: front.publicUrl,
    signIn: { issuer, clientId: front.client.userPoolClientId },
    catalogue: { name: catalogueName(stage), tables: CATALOGUE.tables.map(({ name }) => name) },
    claimTemplate: `brinebell-${stage.name}-meters`,
    trials: trialArns(data, stage),
  };
  const { functions } = new FunctionsStack(...named('Functions'), {
    ...{ stage, topology, holdings, failedRuns, bundles, before: identity.functions },
  });
  const { api, admit } = functions;
  if (api) new RoutesStack(...named('Routes'), { front, issuer, api });
  const meters = new MetersStack(...named('Meters'), {
    ingestQueue: queues.ingest.queue,
    ...(admit && { claims: { admitFunction: admit, template: holdings.claimTemplate } }),
  });
  const { trial } = topology;
  new WorkflowStack(...named('Workflow'), { stage, spec: trial, functions, holdings });
  new WatchStack(...named('Watch'), {
    ...{ ...wishes, key, budget: BUDGET, alarms: alarmsOf(stage.name) },
    watched: {
      ...{ queues, failedRuns, functions, tableName: holdings.table.name },
      ...{ meterRule: meters.rule.ref, undelivered: meters.undelivered },
      apis: { people: front.people.api.ref, machines: front.machines.api.ref },
    },
  });
  acceptWildcards(app);
}

function mailOf([app, id]: readonly [App, string], { mailFrom: from }: Wishes) {
  if (from === undefined) return undefined;
  const { identityArn } = new MailStack(app, id, { from });
  return { from, identityArn };
}
