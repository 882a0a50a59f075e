import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { describe, expect, it } from 'vitest';
import * as z from 'zod';
import { WILDCARDS, wildcardFor } from '../../../infra/aws/wildcards.ts';
import { CATALOGUE_TABLES } from '../../../lib/archive/catalogue.ts';
import { expectedRights, idIn, stackOf } from './expectedRights.ts';
import { everyStatement, resourcesOf, type Statement } from './statements.ts';
import { synthAll } from './synthed.ts';
import type { Templates } from './templates.ts';

const root = fileURLToPath(new URL('../../..', import.meta.url));
const deployments = synthAll();

describe.each(deployments)('%s', (_, { topology, templates, stage }) => {
  const statements = everyStatement(templates);
  const allowed = statements.filter(({ Effect }) => Effect === 'Allow');

  it('has statements to look at, of every kind of policy', () => {
    expect(new Set(statements.map(({ of }) => of))).toEqual(new Set(['role', 'trust', 'resource', 'meter']));
    expect(statements.length).toBeGreaterThan(60);
  });

  it('allows no act by a wildcard', () => {
    const acts = allowed.flatMap(({ on, Action }) => Action.map((action) => `${on.path}: ${action}`));
    expect(acts.filter((act) => act.includes('*'))).toEqual([]);
  });

  it('allows nothing on a resource with a wildcard but for a reason in the table', () => {
    const unexplained = allowed
      .filter(({ of }) => of !== 'trust')
      .flatMap((statement) =>
        resourcesOf(statement)
          .filter((resource) => resource.includes('*'))
          .flatMap((resource) =>
            statement.Action.filter((action) => !wildcardFor(of(statement), action, resource)).map(
              (action) => `${statement.on.path}: ${action} on ${resource}`,
            ),
          ),
      );
    expect(unexplained).toEqual([]);
  });

  it('lets nobody in who is not named: services of AWS, or this account', () => {
    const outsiders = allowed
      .filter(({ of }) => of === 'trust' || of === 'resource')
      .filter(({ Principal }) => !isNamed(Principal))
      .map(({ on, Principal }) => `${on.path}: ${JSON.stringify(Principal)}`);
    expect(outsiders).toEqual([]);
  });

  it('denies only what comes without TLS', () => {
    const denied = statements.filter(({ Effect }) => Effect === 'Deny');
    expect(denied.length).toBeGreaterThan(0);
    expect(new Set(denied.map(({ Condition }) => JSON.stringify(Condition)))).toEqual(
      new Set([JSON.stringify({ Bool: { 'aws:SecureTransport': 'false' } })]),
    );
  });

  it('attaches no policy that AWS manages, and none to users or groups', () => {
    const managed = templates
      .ofType('AWS::IAM::Role')
      .filter(({ Properties }) => 'ManagedPolicyArns' in Properties);
    expect(managed.map(({ path }) => path)).toEqual([]);
    const others = ['AWS::IAM::User', 'AWS::IAM::Group', 'AWS::IAM::ManagedPolicy'];
    expect(others.flatMap((type) => templates.ofType(type))).toEqual([]);
  });

  it.each(Object.entries(topology.functions))(
    'lets %s do what the topology says, and nothing else',
    (name, spec) => {
      const path = `${stackOf(spec)}/${idIn(spec, name)}`;
      const tables = templates.stacks.includes('Catalogue')
        ? CATALOGUE_TABLES.map((table) => table.name)
        : [];
      const hasMail = templates.stacks.includes('Mail');
      const expected = expectedRights(name, spec, { topology, hasMail, tables, stage });
      expect(rightsOf(templates, path)).toEqual([...new Set(expected)].sort());
    },
  );

  it('gives every function a role that no other has', () => {
    const roles = templates
      .ofType('AWS::Lambda::Function')
      .map(({ stack, Properties }) => templates.told(stack, Properties.Role));
    expect(new Set(roles).size).toBe(roles.length);
    expect(roles.length).toBe(Object.keys(topology.functions).length + 1);
  });
});

it('has no reason in its table for what nobody is given', () => {
  const everything = deployments.flatMap(([, { templates }]) => everyStatement(templates));
  const used = new Set(
    everything.flatMap((statement) =>
      resourcesOf(statement).flatMap((resource) =>
        statement.Action.flatMap((action) => wildcardFor(of(statement), action, resource) ?? []),
      ),
    ),
  );
  expect(WILDCARDS.filter((wildcard) => !used.has(wildcard))).toEqual([]);
  expect(WILDCARDS.filter(({ reason }) => reason.length < 20 || reason.includes('\n'))).toEqual([]);
});

it('gives for the table what the store sends to it, and the idempotency of notices', () => {
  const sent = readdirSync(join(root, 'lib/store'))
    .map((file) => readFileSync(join(root, 'lib/store', file), 'utf8'))
    .flatMap((source) => [...source.matchAll(/new (\w+)Command\(/g)].map(([, name]) => name));
  // Those of making a table are of the embedded one: here CloudFormation makes it.
  const ours = sent.filter((name) => name !== 'CreateTable' && name !== 'DescribeTable');
  // https://docs.aws.amazon.com/powertools/typescript/latest/features/idempotency/ (IAM permissions)
  const powertools = ['GetItem', 'PutItem', 'UpdateItem', 'DeleteItem'];
  for (const [, { templates }] of deployments) {
    const given = rightsOf(templates, 'Functions/Notify').flatMap(
      (line) => line.match(/^dynamodb:(\w+) on <Data\/Table\.Arn>$/)?.[1] ?? [],
    );
    expect(new Set(given)).toEqual(new Set([...ours, ...powertools]));
  }
});

/** What the role of a function may do, a line an act and resource. */
function rightsOf(templates: Templates, path: string): string[] {
  const [rolePath] = templates
    .ofType('AWS::Lambda::Function')
    .filter((each) => each.path === `${path}/Function`)
    .map(({ stack, Properties }) => templates.told(stack, Properties.Role).replace(/^<(.*)\.Arn>$/, '$1'));
  if (rolePath === undefined) throw new Error(`There is no function ${path}`);
  const lines = everyStatement(templates)
    .filter((statement) => statement.of === 'role' && rolesOf(templates, statement).includes(rolePath))
    .flatMap((statement) => linesOf(templates, statement));
  return [...new Set(lines)].sort();
}

/** Whose rights a statement is among. */
function rolesOf(templates: Templates, { on }: Statement): string[] {
  if (on.Type === 'AWS::IAM::Role') return [on.path];
  const roles = z.array(z.unknown()).parse(on.Properties.Roles);
  return roles.map((role) => templates.told(on.stack, role).replace(/^<(.*)>$/, '$1'));
}

function linesOf(
  templates: Templates,
  { on, Effect, Action, Resource, NotResource, Condition }: Statement,
): string[] {
  const told = (value: unknown) => templates.told(on.stack, value);
  const resources = [
    ...[Resource ?? []].flat().map(told),
    ...[NotResource ?? []].flat().map((resource) => `all but ${told(resource)}`),
  ];
  const condition = Condition
    ? ` if ${JSON.stringify(Condition, (_, value) => (isReference(value) ? told(value) : value))}`
    : '';
  const effect = Effect === 'Allow' ? '' : 'NOT ';
  return Action.flatMap((action) =>
    resources.map((resource) => `${effect}${action} on ${resource}${condition}`),
  );
}

function isReference(value: unknown): boolean {
  return (
    typeof value === 'object' &&
    value !== null &&
    Object.keys(value).some((key) => /^(Ref|Fn::\w+)$/.test(key))
  );
}

function isNamed(principal: unknown): boolean {
  const parsed = z
    .union([
      z.strictObject({ Service: z.union([z.string(), z.array(z.string())]) }),
      z.strictObject({ AWS: z.object({ 'Fn::Join': z.tuple([z.literal(''), z.array(z.unknown())]) }) }),
    ])
    .safeParse(principal).data;
  if (!parsed) return false;
  if ('Service' in parsed)
    return [parsed.Service].flat().every((service) => /^[a-z0-9.]+\.amazonaws\.com$/.test(service));
  // The account itself, by which its own policies decide.
  const root = ['arn:', { Ref: 'AWS::Partition' }, ':iam::', { Ref: 'AWS::AccountId' }, ':root'];
  return JSON.stringify(parsed.AWS['Fn::Join'][1]) === JSON.stringify(root);
}

function of({ of: whose }: Statement): Exclude<Statement['of'], 'trust'> {
  return whose === 'trust' ? 'resource' : whose;
}
