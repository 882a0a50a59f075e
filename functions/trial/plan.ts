import type { ArchiveFiles } from '../../lib/archive/files.ts';
import { TrialError } from '../../lib/trial/errors.ts';
import { partPaths, trialPaths } from '../../lib/trial/paths.ts';
import type { TrialItem, TrialOrder, TrialPlan } from '../../lib/trial/plan.ts';
import type { UnitRecord } from '../../shared/registry.ts';
import { recordPages } from '../everything.ts';
import { MessageError, readTrialOrder } from '../plainMessages.ts';
import type { Ports } from '../ports.ts';
import { fitting, isThere } from './files.ts';

/** Few enough that a range is replayed in minutes, enough that what it takes to begin is nothing beside it. */
const UNITS_A_PART = 200;

/** What the step says to the workflow: `items` is the path of the list to go through. */
export interface PlannedTrial extends Pick<TrialOrder, 'companyId' | 'trialId'> {
  readonly items: string;
}

export interface TrialPlanOptions {
  readonly unitsAPart?: number;
}

/**
 * The function `trialPlan`: parts a company's units into ranges, and writes down all that the other steps go by, the
 * plan last. A plan that stands is left as it is, so that a trial that is tried again has one end.
 *
 * @throws TrialError `order-invalid`, `company-unknown`; a StoreError
 */
export function trialPlan(
  { store, now }: Pick<Ports, 'store' | 'now'>,
  files: ArchiveFiles,
  { unitsAPart = UNITS_A_PART }: TrialPlanOptions = {},
): (order: unknown) => Promise<PlannedTrial> {
  return async (given) => {
    const order = orderIn(given);
    const { companyId, trialId, rules } = order;
    const planned = { companyId, trialId, items: trialPaths.items(order) };
    if (await isThere(files, trialPaths.plan(order))) return planned;
    await judge(rules);
    const company = await store.company(companyId);
    if (!company) throw new TrialError('company-unknown', companyId);
    const items: TrialItem[] = [];
    for await (const records of rangesOf(store, companyId, unitsAPart)) {
      const item = itemOf(order, items.length, records);
      await files.put(partPaths.units(item), records.map((record) => `${JSON.stringify(record)}\n`).join(''));
      items.push(item);
    }
    const plan: TrialPlan = {
      ...{ companyId, trialId, until: now(), present: company.rules, proposed: rules },
      parts: items.length,
      units: items.reduce((sum, { units }) => sum + units, 0),
    };
    await files.put(trialPaths.items(order), JSON.stringify(items));
    await files.put(trialPaths.plan(order), JSON.stringify(plan));
    return planned;
  };
}

function orderIn(given: unknown): TrialOrder {
  try {
    return readTrialOrder(given);
  } catch (error) {
    throw error instanceof MessageError ? new TrialError('order-invalid', error.message) : error;
  }
}

/** Rules that override nothing fit; the schema of all rules takes as long to load and to make as all else of a plan. */
async function judge(rules: TrialOrder['rules']): Promise<void> {
  if (Object.keys(rules).length === 0) return;
  const { rulesSchema } = await import('../../lib/watch/rules.ts');
  fitting(rules, rulesSchema, 'order-invalid');
}

function itemOf({ companyId, trialId }: TrialOrder, part: number, records: readonly UnitRecord[]): TrialItem {
  const from = records[0]?.unitId ?? '';
  return { companyId, trialId, part, from, to: records.at(-1)?.unitId ?? from, units: records.length };
}

/** The records of a company by unit id, so many at a time. */
async function* rangesOf(store: Ports['store'], companyId: string, size: number) {
  let range: UnitRecord[] = [];
  for await (const page of recordPages(store, companyId)) {
    for (const record of page) {
      range.push(record);
      if (range.length < size) continue;
      yield range;
      range = [];
    }
  }
  if (range.length > 0) yield range;
}
