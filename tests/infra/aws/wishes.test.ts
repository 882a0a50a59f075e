import { App } from 'aws-cdk-lib';
import fc from 'fast-check';
import { expect, it } from 'vitest';
import settings from '../../../cdk.json' with { type: 'json' };
import { build, TOPOLOGY } from '../../../infra/aws/app.ts';
import { TriggerError } from '../../../infra/aws/stacks/identity.ts';
import { BundleError } from '../../../infra/aws/stacks/lambda.ts';
import { STAGES } from '../../../infra/aws/stages.ts';
import { ContextError, wishesOf } from '../../../infra/aws/wishes.ts';
import { FUNCTIONS } from '../../../infra/topology.ts';
import { built, emptyBundles } from './synthed.ts';
import { Templates } from './templates.ts';

it('knows two stages, and refuses any other by naming them', () => {
  for (const name of ['small', 'large'] as const) expect(wishesOf({ stage: name }).stage).toBe(STAGES[name]);
  const others = fc.string().filter((name) => name !== 'small' && name !== 'large');
  fc.assert(
    fc.property(fc.oneof(others, fc.constant(undefined)), (stage) => {
      expect(() => wishesOf({ stage })).toThrow(ContextError);
    }),
  );
  expect(() => wishesOf({ stage: 'medium' })).toThrow(/--context stage: .*"small"\|"large"/);
});

it('refuses what it does not know, but for settings of the toolkit', () => {
  expect(() => wishesOf({ stage: 'small', stag: 'large' })).toThrow(/--context stag: there is no such/);
  expect(wishesOf({ stage: 'small', '@aws-cdk/core:x': true, 'aws:cdk:y': 1, 'cdk-z': 2 }).stage.name).toBe(
    'small',
  );
});

it.each([
  ['operatorMail', 'nobody'],
  ['mailFrom', 'a b@c'],
  ['objectLockDays', '0'],
  ['objectLockDays', '1.5'],
  ['budgetDollars', '-1'],
  ['budgetDollars', 'much'],
  ['domain', 'water.example.com'],
  ['certificateArn', 'arn:aws:acm:us-east-1:123456789012:certificate/1'],
])('refuses %s = %s, and says which it was', (key, value) => {
  expect(() => wishesOf({ stage: 'small', [key]: value })).toThrow(
    new RegExp(`--context ${key === 'certificateArn' ? 'domain' : key}: `),
  );
});

it('wants the certificate where CloudFront does', () => {
  const elsewhere = 'arn:aws:acm:eu-west-1:123456789012:certificate/1';
  expect(() => wishesOf({ stage: 'small', domain: 'a.example.com', certificateArn: elsewhere })).toThrow(
    /certificateArn/,
  );
});

it('says what to do where a bundle is missing', () => {
  const bundles = emptyBundles(['ingest']);
  const app = () => new App({ analyticsReporting: false, context: { ...settings.context, stage: 'small' } });
  expect(() => build(app(), { bundles })).toThrow(BundleError);
  expect(() => build(app(), { bundles })).toThrow(/infra\/aws\/bundle\.js/);
});

it('works on a table that was restored where one is named, and keeps its own', () => {
  const templates = new Templates(built({ context: { stage: 'small', table: 'restored-1' } }).app.synth());
  const tables = templates
    .ofType('AWS::Lambda::Function')
    .map(({ Properties }) => JSON.stringify(Properties.Environment ?? {}))
    .filter((variables) => variables.includes('BRINEBELL_TABLE'));
  expect(tables.length).toBeGreaterThan(5);
  expect(tables.filter((variables) => !variables.includes('"BRINEBELL_TABLE":"restored-1"'))).toEqual([]);
  const policies = JSON.stringify(templates.ofType('AWS::IAM::Policy').map(({ Properties }) => Properties));
  expect(policies).toContain(':table/restored-1/index/list');
  expect(templates.only('AWS::DynamoDB::Table').DeletionPolicy).toBe('Retain');
});

it('gives no right to what is called while people sign in', () => {
  const claims = { ...FUNCTIONS.claims, table: 'read' as const };
  const topology = { ...TOPOLOGY, functions: { ...FUNCTIONS, claims } };
  expect(() => built({ context: { stage: 'small' }, topology })).toThrow(TriggerError);
});
