import { byKnown, follow } from '../../lib/live/follow.ts';
import { newHead } from '../../lib/live/head.ts';
import type { ScoredUnit } from '../../lib/score/scoredUnit.ts';
import { SeenLog } from '../../lib/score/seen.ts';
import type { UnitPlan } from '../../lib/simulation/plan.ts';
import { simulateUnit } from '../../lib/simulation/simulate.ts';
import { toAlert } from '../../lib/watch/episode.ts';
import { noFlow } from '../../lib/watch/noFlow.ts';
import type { Rules } from '../../lib/watch/rules.ts';
import { admit } from '../../shared/admission.ts';
import { readRegistry } from '../../shared/registry.ts';
import type { LocalDate } from '../../shared/time/localDate.ts';

/** A unit of a simulated fleet after its days: its alerts beside its truth, and what was thought meanwhile. */
export interface Watched {
  readonly scored: ScoredUnit;
  /** Probability of a stalled meter as each day of a run of zeros was known, whether or not anybody was told. */
  readonly thought: ReadonlyMap<LocalDate, number>;
}

/** Lives through a unit and watches it. */
export function watched(plan: UnitPlan, rules: Rules): Watched {
  const { record, events, truth } = simulateUnit(plan);
  const { units } = readRegistry(JSON.stringify([record]));
  const [unit] = units.values();
  if (!unit) throw new Error('the simulated unit has no record');
  const log = new SeenLog([unit.unitId]);
  const facts = events.flatMap((event) => {
    const line = JSON.stringify(event);
    log.add(line);
    const admission = admit(line, units);
    return admission.accepted ? [admission.fact] : [];
  });
  const thought = new Map<LocalDate, number>();
  const { ended, head } = follow(unit, newHead(unit, rules.fold), facts.sort(byKnown), {
    rules,
    until: unit.zone.noonOf(plan.start + plan.days),
    onDay: (state, date) => {
      if (state.absence.run?.to !== date) return;
      thought.set(date, noFlow.look(unit, state, rules['no-flow'], 0, true)?.probability ?? 0);
    },
  });
  const alerts = [...ended, ...head.open].map((episode) => toAlert(unit.unitId, episode));
  const to = plan.start + plan.days - 1;
  return { scored: { unit, truth, alerts, from: plan.start, to, seen: log.of(unit.unitId) }, thought };
}
