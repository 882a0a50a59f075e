import { describe, expect, it } from 'vitest';
import * as z from 'zod';
import { synthAll } from './synthed.ts';
import type { Resource } from './templates.ts';

/** What CloudFormation makes at once and AWS looks at before the other is there, if nothing says that one waits. */
describe.each(synthAll())('%s: what must be there first', (_, { templates }) => {
  /** The constructs that a resource waits for beside those that it names. */
  const waitsFor = ({ stack, DependsOn }: Resource) =>
    DependsOn.map((id) => templates.told(stack, { Ref: id }));

  it('lets budgets write to the topic before one is told of it', () => {
    expect(waitsFor(templates.only('AWS::Budgets::Budget'))).toContain('<Watch/Morning/Policy>');
  });

  it('lets AWS IoT Core ask the hook before anybody can claim', () => {
    expect(waitsFor(templates.only('AWS::IoT::ProvisioningTemplate'))).toEqual(['<Meters/AskedByIot>']);
  });

  it('gives every function its rights before it is there to be fed: its queue is refused it otherwise', () => {
    const functions = templates.ofType('AWS::Lambda::Function');
    expect(functions.length).toBeGreaterThan(10);
    for (const each of functions) {
      const role = each.path.replace(/Function$/, 'Role');
      expect(waitsFor(each), each.path).toContain(`<${role}/DefaultPolicy>`);
    }
  });

  it('has no view that is described as no table is: Athena wants to know how it is read, if by nothing', () => {
    const views = templates
      .ofType('AWS::Glue::Table')
      .map(({ Properties }) => viewSchema.parse(Properties.TableInput))
      .filter(({ TableType }) => TableType === 'VIRTUAL_VIEW');
    expect(views.length).toBeGreaterThan(0);
    for (const { StorageDescriptor } of views) expect(StorageDescriptor.SerdeInfo).toEqual({});
  });

  // CloudFormation User Guide, "CloudFormation quotas".
  it('keeps every template within what CloudFormation takes', () => {
    for (const stack of templates.stacks) {
      const { Resources, Outputs } = z
        .object({ Resources: z.record(z.string(), z.unknown()), Outputs: z.record(z.string(), z.unknown()) })
        .parse(templates.template(stack));
      expect(Object.keys(Resources).length, stack).toBeLessThanOrEqual(500);
      expect(Object.keys(Outputs).length, stack).toBeLessThanOrEqual(200);
      expect(JSON.stringify(templates.template(stack)).length, stack).toBeLessThan(1_000_000);
    }
  });
});

const viewSchema = z.object({
  TableType: z.string(),
  StorageDescriptor: z.object({ SerdeInfo: z.record(z.string(), z.unknown()).optional() }),
});
