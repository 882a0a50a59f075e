import { keysOf } from '../../shared/records.ts';
import { FUNCTIONS, QUEUE_NAMES } from '../topology.ts';
import { ofApi, tableFaults, tableThrottles } from './alarmMetrics.ts';
import type { AlarmSpec, BudgetSpec, FleetSize } from './alarmSpec.ts';
import { ofMeters, ofNotices } from './fleetAlarms.ts';
import { ofOneFunction, ofOneQueue, ofSchedules } from './topologyAlarms.ts';
import { type Many, USUAL } from './usualAlarm.ts';

/**
 * Every alarm of a stage, as data; the stacks make them and docs/runbook.md says what to do about each. Functions and
 * queues that are added to the topology have theirs without being named here.
 */
export function alarmsOf(fleet: FleetSize): readonly AlarmSpec[] {
  const many = (small: number, large: number) => (fleet === 'small' ? small : large);
  return [
    ...QUEUE_NAMES.flatMap((queue) => ofOneQueue(queue, many)),
    ...keysOf(FUNCTIONS).flatMap((name) => ofOneFunction(name, many)),
    ...ofSchedules(),
    ...ofMeters(many),
    ...ofNotices(),
    ...ofTheTable(many),
    ...(['people', 'machines'] as const).flatMap((api) => ofOneApi(api, many)),
  ];
}

function ofTheTable(many: Many): AlarmSpec[] {
  return [
    {
      ...USUAL,
      ...{ name: 'table-throttles', section: 'table-throttles' },
      means:
        'The table takes reads or writes more slowly than they are asked for: all comes late, nothing is lost.',
      value: { sum: tableThrottles() },
      threshold: many(10, 1000),
      periods: 3,
    },
    {
      ...USUAL,
      ...{ name: 'table-faults', section: 'table-faults' },
      means: 'The table itself fails.',
      value: { sum: tableFaults() },
      threshold: many(5, 50),
      periods: 2,
      urgency: 'wake',
    },
  ];
}

function ofOneApi(api: 'people' | 'machines', many: Many): AlarmSpec[] {
  const whom = api === 'people' ? 'People' : 'Companies’ machines and gateways';
  return [
    {
      ...USUAL,
      ...{ name: `api-faults-${api}`, section: 'api-faults' },
      means: `${whom} are answered 5xx.`,
      value: { sum: [ofApi(api, '5xx', 'Sum')] },
      threshold: many(5, 50),
      periods: 2,
      urgency: 'wake',
    },
    {
      ...USUAL,
      ...{ name: `api-slow-${api}`, section: 'api-slow' },
      means: `${whom} wait for seconds.`,
      value: { sum: [ofApi(api, 'Latency', 'p95')] },
      threshold: 3_000,
      periods: 3,
    },
  ];
}

/** What a month may cost: AWS Budgets User Guide, "Creating a cost budget". */
export const BUDGET: BudgetSpec = {
  name: 'budget',
  section: 'budget',
  means: 'The month costs, or will cost, more than was meant.',
  dollars: { small: 50, large: 5_000 },
  tellAtPercent: { actual: 80, forecast: 100 },
  source: 'a guess, no source: set it by the bill model, bench/scale',
};
