/**
 * How well every kind of fault is told on simulated fleets: the figures of the README's table. The fleets are made,
 * replayed and scored in memory, as `brinebell simulate`, `replay` and `score` do it with files.
 *
 * usage: node bench/run.js watching [--units 300] [--days 365] [--seed 1] [--seed 2 ...] [--faults balanced]
 *        [--usage fixtures/daiad-alicante/daily.csv] [--rules '{}'] [--out out/score.json] [--false KIND] [--missed FAULT]
 */
import { readFileSync, writeFileSync } from 'node:fs';
import { parseArgs } from 'node:util';
import { scoreText } from '../bin/score/scoreText.ts';
import type { Received } from '../lib/replay/received.ts';
import { replayUnit } from '../lib/replay/replayUnit.ts';
import { alertsOf } from '../lib/score/faultScores.ts';
import { isJustified } from '../lib/score/justified.ts';
import { scoreFleet } from '../lib/score/score.ts';
import { faultsOf, type ScoredUnit } from '../lib/score/scoredUnit.ts';
import { parseFaultMix } from '../lib/simulation/faultMix.ts';
import { planFleet, type UnitPlan } from '../lib/simulation/plan.ts';
import { simulateUnit } from '../lib/simulation/simulate.ts';
import { readUsage } from '../lib/simulation/usageSeries.ts';
import { rulesSchema } from '../lib/watch/rules.ts';
import { admit } from '../shared/admission.ts';
import { readRegistry } from '../shared/registry.ts';
import { parseLocalDate } from '../shared/time/localDate.ts';

const { values } = parseArgs({
  options: {
    units: { type: 'string', default: '300' },
    days: { type: 'string', default: '365' },
    seed: { type: 'string', multiple: true, default: ['1'] },
    faults: { type: 'string', default: 'balanced' },
    usage: { type: 'string' },
    rules: { type: 'string', default: '{}' },
    out: { type: 'string' },
    false: { type: 'string', multiple: true, default: [] },
    missed: { type: 'string', multiple: true, default: [] },
  },
});

const rules = rulesSchema.parse(JSON.parse(values.rules));
const usage = values.usage ? readUsage(readFileSync(values.usage, 'utf8')) : undefined;
const scored = values.seed.flatMap((seed) =>
  planFleet({
    units: Number(values.units),
    days: Number(values.days),
    start: parseLocalDate('2025-01-01') ?? 0,
    seed: Number(seed),
    faults: parseFaultMix(values.faults),
    usage,
  }).map(watched),
);
const score = scoreFleet(scored);
console.log(scoreText(score));
if (values.out) writeFileSync(values.out, `${JSON.stringify(score, null, 2)}\n`);
for (const unit of scored) {
  for (const alert of unit.alerts) {
    if (values.false.includes(alert.kind) && !isJustified(unit, alert))
      console.log('false', JSON.stringify(alert));
  }
  for (const fault of faultsOf(unit).faults) {
    if (values.missed.includes(fault.name) && fault.isSensed && alertsOf(unit, fault).length === 0) {
      console.log('missed', JSON.stringify(fault));
    }
  }
}

function watched(plan: UnitPlan): ScoredUnit {
  const { record, events, truth } = simulateUnit(plan);
  const { units } = readRegistry(JSON.stringify([record]));
  const received = events.map((event, index): Received => {
    const raw = JSON.stringify(event);
    const admission = admit(raw, units);
    if (!admission.accepted) throw new Error(`${admission.reason}: ${admission.detail}`);
    return { line: index + 1, raw, fact: admission.fact };
  });
  const unit = units.get(record.unitId);
  if (!unit) throw new Error('the simulated unit has no record');
  // The clock runs to the end for a unit that has fallen silent, too.
  const until = unit.zone.noonOf(plan.start + plan.days);
  const { alerts } = replayUnit(unit, received, { rules, until, onForecast: () => {} });
  return { unit, truth, alerts, from: plan.start, to: plan.start + plan.days - 1 };
}
