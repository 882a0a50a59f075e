import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { fold } from '../../../../lib/unit/fold.ts';
import { inOrder, standingDays } from '../../../../lib/unit/history.ts';
import { clock } from '../../../../lib/unit/memory/clock.ts';
import { cycles } from '../../../../lib/unit/memory/cycles.ts';
import { duration } from '../../../../lib/unit/memory/duration.ts';
import { flow } from '../../../../lib/unit/memory/flow.ts';
import { copyMemories, type Memories, observeAll } from '../../../../lib/unit/memory/memories.ts';
import type { Seen } from '../../../../lib/unit/memory/memory.ts';
import { meterShare } from '../../../../lib/unit/memory/meterShare.ts';
import { reporting } from '../../../../lib/unit/memory/reporting.ts';
import { saltBalance } from '../../../../lib/unit/memory/saltBalance.ts';
import { saltUse } from '../../../../lib/unit/memory/saltUse.ts';
import { visits } from '../../../../lib/unit/memory/visits.ts';
import { newUnitState } from '../../../../lib/unit/state.ts';
import { rulesSchema } from '../../../../lib/watch/rules.ts';
import { admit } from '../../../../shared/admission.ts';
import type { Fact } from '../../../../shared/facts.ts';
import { story } from '../../../support/events.ts';
import { registryOf, unitRecord } from '../../../support/fleet.ts';

const rules = rulesSchema.parse({}).fold;

/** Asks each of them about the fact, whatever its kind. */
function askEach(kept: Memories, fact: Fact, seen: Seen): Memories {
  return {
    reporting: reporting.observe(kept.reporting, fact, seen),
    meterShare: meterShare.observe(kept.meterShare, fact, seen),
    flow: flow.observe(kept.flow, fact, seen),
    clock: clock.observe(kept.clock, fact, seen),
    duration: duration.observe(kept.duration, fact, seen),
    cycles: cycles.observe(kept.cycles, fact, seen),
    saltUse: saltUse.observe(kept.saltUse, fact, seen),
    saltBalance: saltBalance.observe(kept.saltBalance, fact, seen),
    visits: visits.observe(kept.visits, fact, seen),
  };
}

describe('the memories of a unit', () => {
  it('learn the same as if each were asked about each fact, and write to nothing but their own', () => {
    fc.assert(
      fc.property(story, ({ timeZone, events }) => {
        const { units } = registryOf(unitRecord({ timeZone }));
        const [unit] = units.values();
        if (!unit) throw new Error('no unit');
        const all = events.map((event) => {
          const admission = admit(JSON.stringify(event), units);
          if (!admission.accepted) throw new Error(`${admission.reason}: ${admission.detail}`);
          return admission.fact;
        });
        const days: ReadonlySet<Fact> = new Set(standingDays(all));
        const facts = all.filter((fact) => fact.kind !== 'flow-day' || days.has(fact)).sort(inOrder);
        const state = newUnitState(unit, rules);
        for (const fact of facts) {
          const seen: Seen = { unit, rules, state, expectedGallons: 200 };
          const before = structuredClone(state.memories);
          const asked = copyMemories(state.memories);
          observeAll(asked, fact, seen);
          expect(asked).toEqual(askEach(copyMemories(state.memories), fact, seen));
          expect(state.memories).toEqual(before);
          fold(unit, state, fact, rules);
        }
      }),
      { numRuns: 60 },
    );
  });
});
