import { App, Stack, Validations } from 'aws-cdk-lib';
import { AwsSolutionsChecks } from 'cdk-nag';
import { describe, expect, it } from 'vitest';
import * as z from 'zod';
import { accept, ReasonError } from '../../../infra/aws/accept.ts';
import { synthAll } from './synthed.ts';

const PREFIX = /^Annotation::/i;

/** What is set aside, and where: the construct, the rule, the reason. */
function accepted(app: App): { path: string; rule: string; reason: string }[] {
  return app.node.findAll().flatMap(({ node }) =>
    node.metadata
      .filter(({ type }) => type === Validations.ACKNOWLEDGED_RULES_METADATA_KEY)
      .flatMap(({ data }) => Object.entries(z.record(z.string(), z.string()).parse(data)))
      .map(([id, reason]) => ({ path: node.path, rule: id.replace(PREFIX, ''), reason })),
  );
}

/** Every finding, as if nothing had been set aside. */
function findings(app: App): { path: string; rule: string }[] {
  const pack = new AwsSolutionsChecks(app);
  Object.defineProperty(pack, 'isAcknowledged', { value: () => false });
  return pack
    .validateScope(app)
    .violations.flatMap(({ ruleName: rule, violatingResources }) =>
      violatingResources.map(({ constructPath: path = '' }) => ({ path, rule })),
    );
}

function isWithin(path: string, of: string): boolean {
  return of === '' || path === of || path.startsWith(`${of}/`);
}

describe.each(synthAll())('%s', (_, { app }) => {
  const found = findings(app);
  const set = accepted(app);

  it('passes cdk-nag’s AwsSolutions', () => {
    const { success, violations } = new AwsSolutionsChecks(app).validateScope(app);
    expect(violations).toEqual([]);
    expect(success).toBe(true);
    // The pack does look: without what is set aside it finds something in most stacks.
    expect(found.length).toBeGreaterThan(20);
  });

  it('sets nothing aside that was not found', () => {
    const unused = set.filter(
      ({ path, rule }) => !found.some((finding) => finding.rule === rule && isWithin(finding.path, path)),
    );
    expect(unused).toEqual([]);
  });

  it('says why of each in one line', () => {
    expect(set.filter(({ reason }) => !/^\S.{18,}\S$/.test(reason))).toEqual([]);
    expect(set.length).toBeGreaterThan(0);
  });
});

it('sets nothing aside without a reason', () => {
  const stack = new Stack(new App({ analyticsReporting: false }), 'Any');
  for (const reason of ['', 'n/a', 'not needed here', `a reason of\ntwo lines that goes on`])
    expect(() => accept(stack, 'SQS3', reason)).toThrow(ReasonError);
  expect(() => accept(stack, 'SQS3', 'It holds dead letters itself.')).not.toThrow();
});
